// A film as the server hands it over, unpacked: each array is deflated runs of whole numbers, in base64.

async function unpack(text, length) {
  const bytes = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate"));
  return fromRuns(new Uint8Array(await new Response(stream).arrayBuffer()), length);
}

function fromRuns(bytes, length) {
  const numbers = new Uint16Array(length);
  let place = 0, number = 0, shift = 0, run = -1;
  for (const byte of bytes) {
    number += (byte & 127) * 2 ** shift;
    shift += 7;
    if (byte & 128) continue;
    if (run < 0) {
      run = number;
    } else {
      if (number) numbers.fill(Math.min(number, 65535), place, place + run);
      place += run;
      run = -1;
    }
    number = 0;
    shift = 0;
  }
  return numbers;
}

async function openFilm(plan, data) {
  const days = data.days, spots = data.ground.x.length, beds = data.ground.beds.length + 1;
  const nests = plan.nests.length, places = spots + 2 * beds;
  const lengths = {
    leaf: spots, head: spots, holes: spots, looks: spots, flowers: spots, fruits: spots, aphids: spots,
    insects: data.kindCount * places, net: beds, open: beds, sprayed: beds, picked: beds, away: beds,
    bees: beds * 3, caught: 3 * beds, minutes: nests * beds, nestlings: nests,
  };
  const film = { ...plan, days, spots, beds, places };
  const names = Object.keys(lengths);
  const arrays = await Promise.all(names.map((name) => unpack(plan.arrays[name], lengths[name] * days)));
  names.forEach((name, place) => { film[name] = arrays[place]; });
  film.arrays = null;
  film.at = (name, row, day) => film[name][row * days + day];
  film.count = (kind, place, day) => film.insects[(kind * places + place) * days + day];
  return film;
}

// A number from 0 to 1 that belongs to its three whole numbers: the same dot keeps its place from day to day.
function lot(a, b, c) {
  let z = Math.imul(a + 1, 0x9e3779b1) ^ Math.imul(b + 1, 0x85ebca6b) ^ Math.imul(c + 1, 0xc2b2ae35);
  z = Math.imul(z ^ (z >>> 15), 0x2c1b3c6d);
  z = Math.imul(z ^ (z >>> 12), 0x297a2d39);
  return ((z ^ (z >>> 15)) >>> 0) / 4294967296;
}
