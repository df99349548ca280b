// The one palette. Depth and deviation: cividis (Nunez, Anderton and Renslow, PLoS ONE 13, 2018; stops from memory).
// Categories: Okabe and Ito, Color Universal Design (2008; from memory). Paper and ink come from the style sheet.

const CIVIDIS = ["#00224e", "#123570", "#3b496c", "#575d6d", "#707173", "#8a8678", "#a59c74", "#c3b369", "#e1cc55", "#fee838"];
const CATEGORIES = ["#0072b2", "#e69f00", "#009e73", "#cc79a7", "#56b4e9", "#d55e00", "#f0e442", "#000000"];

function rgb(hex) {
  return [1, 3, 5].map((at) => parseInt(hex.slice(at, at + 2), 16));
}

function mixed(a, b, share) {
  return a.map((value, i) => value + (b[i] - value) * share);
}

// A pixel as the canvas stores it, whatever the byte order of the machine.
const pixel = (() => {
  const bytes = new Uint8Array(4);
  const word = new Uint32Array(bytes.buffer);
  return ([r, g, b], a = 255) => {
    bytes[0] = r;
    bytes[1] = g;
    bytes[2] = b;
    bytes[3] = a;
    return word[0];
  };
})();

// 256 pixels along a row of colours.
function ramp(colours) {
  const stops = colours.map(rgb);
  return Uint32Array.from({ length: 256 }, (_, i) => {
    const at = (i / 255) * (stops.length - 1);
    const low = Math.min(Math.floor(at), stops.length - 2);
    return pixel(mixed(stops[low], stops[low + 1], at - low).map(Math.round));
  });
}

const cividis = ramp(CIVIDIS);

// The colour of a category; the black of the palette would be lost on a dark page, where it is light instead.
function category(index) {
  const colour = CATEGORIES[index % CATEGORIES.length];
  return colour === "#000000" ? ink("ink") : colour;
}

// A colour or type of the style sheet, asked for once for each theme: the answer costs the browser a look at the page.
const inks = new Map();

function ink(name) {
  if (!inks.has(name)) inks.set(name, getComputedStyle(document.documentElement).getPropertyValue(`--${name}`).trim());
  return inks.get(name);
}
