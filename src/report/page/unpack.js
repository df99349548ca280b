// The pack of facts and history: see pack.rs for how it is made.

async function unpack() {
  const text = document.getElementById("pack").textContent.trim();
  // Browsers of 2025 and later read base64 at once; older ones letter by letter.
  const zipped = Uint8Array.fromBase64 ? Uint8Array.fromBase64(text) : Uint8Array.from(atob(text), (c) => c.charCodeAt(0));
  const stream = new Blob([zipped]).stream().pipeThrough(new DecompressionStream("gzip"));
  const bytes = new Uint8Array(await new Response(stream).arrayBuffer());
  const lengths = new DataView(bytes.buffer);
  const factsEnd = 4 + lengths.getUint32(0, true);
  const facts = JSON.parse(new TextDecoder().decode(bytes.subarray(4, factsEnd)));
  const shavings = lengths.getUint32(factsEnd, true);
  const headsEnd = factsEnd + 8 + lengths.getUint32(factsEnd + 4, true);
  const history = readHistory(facts.grid, shavings, bytes.subarray(factsEnd + 8, headsEnd), bytes.subarray(headsEnd));
  return { facts, history };
}

// For each cell the cuts it got, in order: cuts of cell c are first[c] up to first[c + 1].
function readHistory(grid, shavings, heads, values) {
  const list = readHeads(shavings, heads);
  const cells = grid.rows * grid.stations;
  const first = new Uint32Array(cells + 1);
  let count = 0;
  for (let i = 0; i < shavings; i++) {
    const start = list.row[i] * grid.stations + list.column[i];
    for (let k = 0; k < list.length[i]; k++) first[start + k + 1]++;
    count += list.length[i];
  }
  for (let c = 0; c < cells; c++) first[c + 1] += first[c];
  const motion = new Uint32Array(count);
  const radius = new Uint16Array(count);
  const next = first.slice(0, cells);
  let at = 0;
  let firstRadius = 0;
  for (let i = 0; i < shavings; i++) {
    const start = list.row[i] * grid.stations + list.column[i];
    let before = firstRadius;
    let slope = 0;
    for (let k = 0; k < list.length[i]; k++) {
      let folded = 0;
      let shift = 0;
      let byte;
      do {
        byte = values[at++];
        folded |= (byte & 127) << shift;
        shift += 7;
      } while (byte > 127);
      const value = before + slope + ((folded >>> 1) ^ -(folded & 1));
      if (k === 0) firstRadius = value;
      else slope = value - before;
      before = value;
      const event = next[start + k]++;
      motion[event] = list.motion[i];
      radius[event] = value;
    }
  }
  return { first, motion, radius };
}

function readHeads(shavings, heads) {
  let at = 0;
  const number = () => {
    let value = 0;
    let shift = 0;
    let byte;
    do {
      byte = heads[at++];
      value |= (byte & 127) << shift;
      shift += 7;
    } while (byte > 127);
    return value >>> 0;
  };
  const folded = () => {
    const value = number();
    return (value >>> 1) ^ -(value & 1);
  };
  const list = {
    motion: new Uint32Array(shavings),
    row: new Uint16Array(shavings),
    column: new Uint16Array(shavings),
    length: new Uint16Array(shavings),
  };
  let [motion, row, column] = [0, 0, 0];
  for (let i = 0; i < shavings; i++) {
    list.motion[i] = motion += number();
    list.row[i] = row += folded();
    list.column[i] = column += folded();
    list.length[i] = number();
  }
  return list;
}
