// Numbers as words, in the unit of the job. Lengths come in mm, angles in radians, times in minutes.

const units = {
  name: "mm",
  mm: 1,
  decimals: 2,

  use(unit) {
    Object.assign(units, unit);
  },
  tidy(text) {
    return /^-[0.]+$/.test(text) ? text.slice(1) : text;
  },
  number(mm, more = 0) {
    return units.tidy((mm / units.mm).toFixed(units.decimals + more));
  },
  length(mm, more = 0) {
    return `${units.number(mm, more)} ${units.name}`;
  },
  // A length on a scale: no more decimals than the step needs.
  mark(mm, step) {
    const decimals = Math.max(0, Math.ceil(-Math.log10(step / units.mm) - 1e-9));
    return units.tidy((mm / units.mm).toFixed(decimals));
  },
  speed(mmPerMin) {
    return `${(mmPerMin / units.mm).toFixed(units.mm === 1 ? 0 : 1)} ${units.name}/min`;
  },
  rate(mm3PerMin) {
    return units.mm === 1
      ? `${(mm3PerMin / 1000).toFixed(1)} cm\u00b3/min`
      : `${(mm3PerMin / units.mm ** 3).toFixed(2)} in\u00b3/min`;
  },
  degrees(rad, decimals = 1) {
    return `${units.tidy(((rad * 180) / Math.PI).toFixed(decimals))}\u00b0`;
  },
  minutes(minutes) {
    const seconds = Math.round(minutes * 60);
    return seconds < 60 ? `${seconds} s` : `${Math.floor(seconds / 60)} min ${String(seconds % 60).padStart(2, "0")} s`;
  },
};

// A step of 1, 2 or 5 times a power of ten (in the shown unit) of which about `count` fit into a length.
function roundStep(mm, count) {
  const rough = mm / units.mm / count;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].find((times) => times * power >= rough) * power;
  return step * units.mm;
}
