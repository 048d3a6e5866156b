// Our own drawings of every creature, in a box of 24 by 24. They differ in shape; colour only helps.

const TAU = Math.PI * 2;

function shape(c, fill, stroke, path, width = 1.2) {
  c.beginPath();
  path();
  if (fill) { c.fillStyle = fill; c.fill(); }
  if (stroke) { c.strokeStyle = stroke; c.lineWidth = width; c.stroke(); }
}

function oval(c, x, y, rx, ry, fill, stroke = "#1b1b1b", turn = 0, width = 1.2) {
  shape(c, fill, stroke, () => c.ellipse(x, y, rx, ry, turn, 0, TAU), width);
}

function line(c, points, stroke = "#1b1b1b", width = 1.4) {
  shape(c, null, stroke, () => points.forEach(([x, y], n) => (n ? c.lineTo(x, y) : c.moveTo(x, y))), width);
}

function legs(c, x, y, reach, stroke = "#1b1b1b") {
  for (const row of [-1, 0, 1]) {
    line(c, [[x - reach, y + row * 4 + row], [x, y + row * 2.5], [x + reach, y + row * 4 + row]], stroke, 1.1);
  }
}

function worm(c, fill, beads, rise, thick) {
  for (let n = 0; n < beads; n++) {
    const t = n / (beads - 1);
    oval(c, 3 + 18 * t, 14 - Math.sin(t * Math.PI) * rise, thick, thick, fill, "#1f3312", 0, 1);
  }
  oval(c, 21, 14, thick * 0.95, thick * 0.95, "#33270f", "#1b1b1b", 0, 1);
}

function wings(c, fill, spot) {
  for (const side of [-1, 1]) {
    shape(c, fill, "#26302a", () => {
      c.moveTo(12, 11);
      c.bezierCurveTo(12 + side * 3, 0, 12 + side * 13, 1, 12 + side * 10.5, 11);
      c.bezierCurveTo(12 + side * 12, 19, 12 + side * 4, 22, 12, 14);
    }, 1.1);
    if (spot) oval(c, 12 + side * 6.6, 8, 1.5, 1.5, spot, null);
  }
  oval(c, 12, 12.5, 1.3, 6, "#26302a", null);
}

function grub(c, fill, isTwoEnded) {
  shape(c, null, "#2a2014", () => { c.moveTo(4, 16); c.bezierCurveTo(9, 4, 15, 22, 20, 9); }, 5.4);
  shape(c, null, fill, () => { c.moveTo(4, 16); c.bezierCurveTo(9, 4, 15, 22, 20, 9); }, 3.6);
  oval(c, 20, 9, 2.4, 2.4, "#5a3312", null);
  if (isTwoEnded) oval(c, 4, 16, 2.1, 2.1, "#5a3312", null);
}

const CREATURES = {
  // cabbage white: upright ribbed egg, plump worm, angled pupa, butterfly with spots
  cabbage_white_egg: (c) => { oval(c, 12, 12, 4.2, 8.5, "#ffe55c"); line(c, [[12, 4], [12, 20]], "#7a5b00", 1); },
  cabbage_white_young: (c) => worm(c, "#5fae2e", 6, 1.2, 3.5),
  cabbage_white_pupa: (c) => shape(c, "#a9c46c", "#1b1b1b", () => {
    c.moveTo(12, 2); c.lineTo(17, 9); c.lineTo(14, 13); c.lineTo(15, 20); c.lineTo(12, 23); c.lineTo(9, 20);
    c.lineTo(10, 13); c.lineTo(7, 9); c.closePath();
  }),
  cabbage_white_adult: (c) => wings(c, "#ffffff", "#262626"),
  // cabbage looper: dome egg with a ring, arched looper, web with a pupa, broad brown moth with a mark
  cabbage_looper_egg: (c) => {
    shape(c, "#ffffff", "#1b1b1b", () => { c.arc(12, 15, 7.5, Math.PI, 0); c.closePath(); });
    line(c, [[12, 8], [12, 15]], "#5b5b5b", 1);
  },
  cabbage_looper_young: (c) => worm(c, "#8fd16a", 7, 9.5, 2.4),
  cabbage_looper_pupa: (c) => {
    oval(c, 12, 12, 9.5, 6.5, "#ffffffb0", "#6b6b6b");
    oval(c, 12, 12, 5.5, 2.8, "#6b4a20");
    line(c, [[3, 7], [21, 17]], "#8a8a8a", 0.9); line(c, [[3, 17], [21, 7]], "#8a8a8a", 0.9);
  },
  cabbage_looper_adult: (c) => {
    shape(c, "#7b6248", "#1b1b1b", () => { c.moveTo(12, 3); c.lineTo(22, 19); c.lineTo(12, 16); c.lineTo(2, 19); c.closePath(); });
    oval(c, 8, 13, 1.8, 1.3, "#ffffff", null); oval(c, 16, 13, 1.8, 1.3, "#ffffff", null);
  },
  // diamondback moth: three flat eggs in a row, spindle with a forked tail, spindle in a net, narrow moth with diamonds
  diamondback_moth_egg: (c) => { for (const x of [6, 12, 18]) oval(c, x, 12, 2.4, 3.4, "#e7ef9a"); },
  diamondback_moth_young: (c) => {
    shape(c, "#a8d97a", "#1f3312", () => { c.moveTo(2, 12); c.quadraticCurveTo(12, 3, 21, 12); c.quadraticCurveTo(12, 21, 2, 12); });
    line(c, [[2, 12], [0.5, 8.5]]); line(c, [[2, 12], [0.5, 15.5]]);
  },
  diamondback_moth_pupa: (c) => {
    shape(c, "#e8e2c9", "#1b1b1b", () => { c.moveTo(2, 12); c.quadraticCurveTo(12, 4, 22, 12); c.quadraticCurveTo(12, 20, 2, 12); });
    for (const x of [8, 12, 16]) line(c, [[x - 2, 8.5], [x + 2, 15.5]], "#54452a", 0.9);
    for (const x of [8, 12, 16]) line(c, [[x + 2, 8.5], [x - 2, 15.5]], "#54452a", 0.9);
  },
  diamondback_moth_adult: (c) => {
    shape(c, "#6d5436", "#1b1b1b", () => { c.moveTo(12, 1); c.lineTo(17.5, 21); c.lineTo(12, 23); c.lineTo(6.5, 21); c.closePath(); });
    for (const y of [8, 13, 18]) shape(c, "#fff3cf", null, () => { c.moveTo(12, y - 2.6); c.lineTo(14, y); c.lineTo(12, y + 2.6); c.lineTo(10, y); });
  },
  // harlequin bug: banded barrels, round spotted nymph, shield
  harlequin_bug_egg: (c) => {
    for (const x of [7, 17]) {
      shape(c, "#ffffff", "#1b1b1b", () => c.roundRect(x - 4, 4, 8, 16, 2.5));
      line(c, [[x - 4, 9], [x + 4, 9]], "#1b1b1b", 2); line(c, [[x - 4, 15], [x + 4, 15]], "#1b1b1b", 2);
    }
  },
  harlequin_bug_young: (c) => {
    legs(c, 12, 12, 9);
    oval(c, 12, 12, 6.5, 7, "#f0742e");
    for (const [x, y] of [[9, 9], [15, 9], [12, 13], [9, 16], [15, 16]]) oval(c, x, y, 1.3, 1.3, "#1b1b1b", null);
  },
  harlequin_bug_adult: (c) => {
    legs(c, 12, 12, 10);
    shape(c, "#d83a1f", "#1b1b1b", () => { c.moveTo(7, 3); c.lineTo(17, 3); c.lineTo(20, 8); c.lineTo(12, 23); c.lineTo(4, 8); c.closePath(); }, 1.6);
    line(c, [[5, 9], [19, 9]], "#1b1b1b", 2.4); line(c, [[8, 9], [12, 21], [16, 9]], "#1b1b1b", 2.2);
  },
  // flea beetle: bean egg, thread grub, small pupa, round jumper with big hind legs
  flea_beetle_egg: (c) => shape(c, "#fff2b8", "#1b1b1b", () => { c.moveTo(6, 15); c.bezierCurveTo(4, 6, 18, 4, 19, 11); c.bezierCurveTo(17, 13, 12, 10, 11, 15); c.bezierCurveTo(10, 19, 7, 19, 6, 15); }),
  flea_beetle_young: (c) => grub(c, "#ffffff", false),
  flea_beetle_pupa: (c) => { oval(c, 12, 12, 4.5, 6.5, "#fbf3df"); line(c, [[9, 10], [12, 13], [15, 10]], "#5b4a2a", 1); },
  flea_beetle_adult: (c) => {
    line(c, [[8, 14], [2, 10], [5, 21]], "#1b1b1b", 2.2); line(c, [[16, 14], [22, 10], [19, 21]], "#1b1b1b", 2.2);
    line(c, [[9, 7], [6, 2]]); line(c, [[15, 7], [18, 2]]);
    oval(c, 12, 12, 5.5, 6.5, "#24323f"); line(c, [[12, 8], [12, 18]], "#c3d3df", 1);
  },
  // cucumber beetle: three eggs in a clump, grub with two dark ends, broad pupa, striped beetle
  cucumber_beetle_egg: (c) => { oval(c, 8, 15, 4, 4, "#ffb02e"); oval(c, 16, 15, 4, 4, "#ffb02e"); oval(c, 12, 8, 4, 4, "#ffb02e"); },
  cucumber_beetle_young: (c) => grub(c, "#f3e7b0", true),
  cucumber_beetle_pupa: (c) => { oval(c, 12, 12, 6.5, 8, "#f6edc4"); line(c, [[6, 12], [18, 12]], "#5b4a2a", 1); line(c, [[7, 16], [17, 16]], "#5b4a2a", 1); },
  cucumber_beetle_adult: (c) => {
    legs(c, 12, 13, 9); oval(c, 12, 4.5, 2.8, 2.6, "#1b1b1b");
    oval(c, 12, 14, 5.8, 8.5, "#ffd326", "#1b1b1b", 0, 1.6);
    for (const x of [8.5, 12, 15.5]) line(c, [[x, 7.5], [x, 20.5]], "#1b1b1b", 1.9);
  },
  // small wasp: cluster of cocoons, slim waist with long wings
  parasitoid_wasp_pupa: (c) => { for (const [x, y] of [[8, 8], [15, 7], [6, 15], [13, 15], [19, 14]]) oval(c, x, y, 2.4, 3.8, "#ffe98a", "#6a5200", 0.5, 1); },
  parasitoid_wasp_adult: (c) => {
    oval(c, 5.5, 8, 6, 2.2, "#dff1ffd0", "#30404c", 0.5, 1); oval(c, 18.5, 8, 6, 2.2, "#dff1ffd0", "#30404c", -0.5, 1);
    oval(c, 12, 5, 2.4, 2.4, "#1b1b1b", null); oval(c, 12, 10, 2.6, 3, "#1b1b1b", null);
    line(c, [[12, 12], [12, 15]], "#1b1b1b", 1.3); oval(c, 12, 18, 2.4, 4.2, "#7a2d14");
  },
  bee0: (c) => {
    oval(c, 7, 7, 5.5, 3, "#dff1ffd0", "#30404c", -0.6, 1); oval(c, 17, 7, 5.5, 3, "#dff1ffd0", "#30404c", 0.6, 1);
    oval(c, 12, 13, 4.6, 8, "#d9930f", "#1b1b1b", 0, 1.4);
    for (const y of [11, 15, 18]) line(c, [[8, y], [16, y]], "#1b1b1b", 1.8);
  },
  bee1: (c) => {
    oval(c, 5.5, 8, 5, 3, "#dff1ffd0", "#30404c", -0.6, 1); oval(c, 18.5, 8, 5, 3, "#dff1ffd0", "#30404c", 0.6, 1);
    oval(c, 12, 13, 8, 9, "#262016", "#1b1b1b", 0, 1.4); oval(c, 12, 9, 6.5, 3, "#ffd326", null); oval(c, 12, 19.5, 4.5, 2, "#ffffff", null);
  },
  bee2: (c) => {
    oval(c, 7, 10, 4, 2, "#dff1ffd0", "#30404c", -0.5, 1); oval(c, 17, 10, 4, 2, "#dff1ffd0", "#30404c", 0.5, 1);
    oval(c, 12, 14, 2.8, 6, "#24544a"); oval(c, 12, 7.5, 2.2, 2.2, "#24544a");
  },
  bird0: (c) => bird(c, "#6f8aa0", "#fffdf2", () => { oval(c, 16.5, 8, 4.4, 3.4, "#16181a", null); oval(c, 17, 10, 2.6, 1.6, "#ffffff", null); }, 0),
  bird1: (c) => bird(c, "#8a5a2c", "#ead2a8", () => line(c, [[14, 6.4], [20, 6.6]], "#ffffff", 1.4), -8),
  bird2: (c) => bird(c, "#2a2a2c", "#ffffff", () => {
    oval(c, 16, 5.6, 3, 1.7, "#c9281c", null);
    for (const x of [6, 9, 12]) line(c, [[x, 11], [x + 1.5, 14]], "#ffffff", 1.4);
  }, 2),
};

function bird(c, back, belly, head, tail) {
  shape(c, back, "#16181a", () => { c.moveTo(6, 12); c.lineTo(0.5, 12 + tail); c.lineTo(2, 15 + tail * 0.8); c.lineTo(8, 15); c.closePath(); }, 1.1);
  oval(c, 10.5, 13.5, 7, 5.2, belly, "#16181a", -0.25, 1.1);
  shape(c, back, "#16181a", () => { c.moveTo(16, 10); c.quadraticCurveTo(10, 4, 3, 13); c.quadraticCurveTo(9, 17, 15, 13); c.closePath(); }, 1.1);
  oval(c, 16.5, 8.5, 4.2, 3.9, back, "#16181a", 0, 1.1);
  head();
  shape(c, "#e0a11b", "#16181a", () => { c.moveTo(20, 7.6); c.lineTo(23.8, 9); c.lineTo(20, 10.2); c.closePath(); }, 0.9);
  oval(c, 17.6, 7.8, 1, 1, "#ffffff", "#16181a", 0, 0.8);
}

function nest(c, x, y, size, chicks) {
  c.save();
  c.translate(x - size / 2, y - size / 2);
  c.scale(size / 24, size / 24);
  oval(c, 12, 15, 11, 7.5, "#6b4a23", "#2c1d0b", 0, 1.6);
  oval(c, 12, 13.5, 8.5, 4.6, "#3a2711", null);
  for (let n = 0; n < Math.min(chicks, 5); n++) {
    const at = 6.5 + (n % 3) * 5.5 - (n > 2 ? -2.7 : 0), high = n > 2 ? 9 : 12.5;
    oval(c, at, high, 2.6, 2.8, "#f4d7a0", "#3a2711", 0, 0.9);
    shape(c, "#e2571e", "#3a2711", () => { c.moveTo(at - 1.6, high - 1); c.lineTo(at, high - 4.4); c.lineTo(at + 1.6, high - 1); c.closePath(); }, 0.7);
  }
  for (const [a, b] of [[[2, 12], [9, 19]], [[22, 12], [14, 20]], [[5, 19], [19, 17]]]) line(c, [a, b], "#a67c45", 1.2);
  c.restore();
}

// Drawn once in each size, with a pale rim that parts it from leaf and soil, and then stamped.
const stamps = new Map();

function stamp(name, size, ratio) {
  const key = `${name} ${size} ${ratio}`;
  let found = stamps.get(key);
  if (!found) {
    const room = Math.ceil((size + 6) * ratio);
    found = document.createElement("canvas");
    found.width = found.height = room;
    const c = found.getContext("2d");
    const plain = document.createElement("canvas");
    plain.width = plain.height = room;
    const p = plain.getContext("2d");
    p.translate(3 * ratio, 3 * ratio);
    p.scale((size * ratio) / 24, (size * ratio) / 24);
    p.lineJoin = p.lineCap = "round";
    CREATURES[name](p);
    c.shadowColor = "#fffef2";
    c.shadowBlur = 2.5 * ratio;
    c.drawImage(plain, 0, 0);
    c.drawImage(plain, 0, 0);
    stamps.set(key, found);
  }
  return found;
}

// On whole pixels of the screen a picture is copied; between them it would be mixed anew, which takes several times as long.
function onPixel(at, ratio) {
  return Math.round(at * ratio) / ratio;
}

function put(c, name, x, y, size, ratio, turn = 0, mirror = false) {
  const picture = stamp(name, size, ratio), room = picture.width / ratio;
  if (!turn && !mirror) {
    c.drawImage(picture, onPixel(x - room / 2, ratio), onPixel(y - room / 2, ratio), room, room);
    return;
  }
  c.save();
  c.translate(x, y);
  if (mirror) c.scale(-1, 1);
  c.rotate(turn);
  c.drawImage(picture, -room / 2, -room / 2, room, room);
  c.restore();
}
