// Plants from above: rosettes that grow to their true size and lose as much of their leaf as was eaten.

const CROPS = {
  collard: { leaf: "#3f8a53", rib: "#d5e8c5", wide: 0.46, tip: 1 },
  kale: { leaf: "#2f7360", rib: "#bfe0cf", wide: 0.36, tip: 1, frill: 7 },
  kohlrabi: { leaf: "#5b9c63", rib: "#e0efd2", wide: 0.3, tip: 1, head: "#cfe7a4" },
  cabbage: { leaf: "#6aa382", rib: "#e3f0dc", wide: 0.62, tip: 0.94, head: "#c4dfaa" },
  broccoli: { leaf: "#4d8a76", rib: "#cfe6d6", wide: 0.38, tip: 1, frill: 4, head: "#2f6b34" },
  lettuce: { leaf: "#92cf4b", rib: "#eaf7cf", wide: 0.66, tip: 0.92, frill: 6 },
  radish: { leaf: "#5fa23f", rib: "#e3f1cf", wide: 0.34, tip: 0.95, head: "#d8365f" },
  turnip: { leaf: "#5a9a45", rib: "#e0efd0", wide: 0.34, tip: 1, head: "#e7d3ea" },
  cucumber: { leaf: "#4f9638", rib: "#dcefc4", wide: 0.6, tip: 0.9, lobes: 5 },
  mustard: { leaf: "#7fae2f", rib: "#eef4c4", wide: 0.4, tip: 1, frill: 5 },
  wild_hosts: { leaf: "#7d8f45", rib: "#dfe4b6", wide: 0.26, tip: 1 },
};
const LOOK = { absent: 0, growing: 1, ripe: 2, flowering: 3, dead: 4, gone: 5 };
const HOLE = 0.125, LEAF_COVER = 0.74;
const VARIANTS = 5;
const plantPictures = new Map();

function leaf(c, style, long, turn, tone) {
  c.save();
  c.rotate(turn);
  const wide = long * style.wide;
  c.beginPath();
  c.moveTo(0, 0);
  if (style.lobes) {
    c.moveTo(long * 0.2, 0);
    for (let n = 0; n <= style.lobes * 2; n++) {
      const angle = -2.3 + (4.6 * n) / (style.lobes * 2), far = n % 2 ? 0.34 : 0.5;
      c.lineTo(long * (0.52 + far * Math.cos(angle)), long * far * Math.sin(angle) * 1.05);
    }
  } else if (style.frill) {
    const bumps = style.frill;
    for (const side of [1, -1]) {
      for (let n = 0; n < bumps; n++) {
        const t = side > 0 ? (n + 1) / bumps : 1 - (n + 1) / bumps;
        const half = wide * Math.sin(Math.PI * Math.pow(Math.max(t, 0.001), 0.8)) * side;
        const back = side > 0 ? (n + 0.5) / bumps : 1 - (n + 0.5) / bumps;
        const bulge = wide * 1.22 * Math.sin(Math.PI * Math.pow(back, 0.8)) * side;
        c.quadraticCurveTo(long * back, bulge + side * wide * 0.16, long * t * style.tip, half);
      }
    }
  } else {
    c.bezierCurveTo(long * 0.25, wide, long * 0.85, wide, long * style.tip, 0);
    c.bezierCurveTo(long * 0.85, -wide, long * 0.25, -wide, 0, 0);
  }
  c.closePath();
  c.fillStyle = style.leaf;
  c.fill();
  c.fillStyle = tone;
  c.fill();
  c.strokeStyle = "rgba(14, 40, 20, 0.55)";
  c.lineWidth = Math.max(0.6, long * 0.03);
  c.stroke();
  c.strokeStyle = style.rib;
  c.lineWidth = Math.max(0.6, long * 0.045);
  c.beginPath();
  c.moveTo(long * 0.08, 0);
  c.lineTo(long * 0.86, 0);
  c.stroke();
  c.restore();
}

function plantPicture(crop, radius, holes, look, head, variant, ratio) {
  const key = `${crop} ${radius} ${holes} ${look} ${head} ${variant} ${ratio}`;
  let found = plantPictures.get(key);
  if (found) return found;
  if (plantPictures.size > 4000) plantPictures.clear();
  const room = Math.ceil((radius * 2 + 6) * ratio);
  found = document.createElement("canvas");
  found.width = found.height = room;
  const c = found.getContext("2d");
  c.translate(room / 2, room / 2);
  c.scale(ratio, ratio);
  const plain = CROPS[crop] || CROPS.mustard;
  const style = look === LOOK.dead ? { ...plain, leaf: "#a58a55", rib: "#6d5730", head: "#8a7040" } : plain;
  const rings = radius < 5 ? [[4, 1]] : radius < 11 ? [[6, 1], [4, 0.62]] : [[8, 1], [6, 0.72], [4, 0.42]];
  rings.forEach(([count, size], ring) => {
    for (let n = 0; n < count; n++) {
      const turn = (TAU * (n + ring * 0.5 + 0.6 * lot(variant, n, ring))) / count;
      const long = radius * size * (0.86 + 0.14 * lot(variant, n, ring + 9));
      leaf(c, style, long, turn, ring === 0 ? "rgba(0,25,10,0.16)" : ring === 1 ? "rgba(255,255,255,0.02)" : "rgba(255,255,220,0.2)");
    }
  });
  eatHoles(c, radius, holes, variant);
  if (head > 1.5 && style.head) drawHead(c, crop, head, style.head);
  plantPictures.set(key, found);
  return found;
}

// So many bites that their area is the eaten share of the leaf: what lies below shows through.
function eatHoles(c, radius, holes, variant) {
  const bites = Math.round((holes / 100) * LEAF_COVER / (HOLE * HOLE));
  c.globalCompositeOperation = "destination-out";
  for (let n = 0; n < bites; n++) {
    const far = radius * Math.sqrt(0.03 + 0.95 * lot(variant, n, 77)), turn = TAU * lot(variant, n, 78);
    c.beginPath();
    c.ellipse(far * Math.cos(turn), far * Math.sin(turn), radius * HOLE * 1.15, radius * HOLE * 0.87, turn, 0, TAU);
    c.fill();
  }
  c.globalCompositeOperation = "source-over";
}

function drawHead(c, crop, head, fill) {
  if (crop === "broccoli") {
    for (let n = 0; n < 9; n++) {
      const far = n ? head * 0.62 : 0, turn = (TAU * n) / 8;
      oval(c, far * Math.cos(turn), far * Math.sin(turn), head * 0.42, head * 0.42, fill, "#173c1b", 0, 0.8);
    }
    return;
  }
  oval(c, 0, 0, head, head, fill, "#34502c", 0, 1.1);
  c.strokeStyle = "rgba(40, 80, 40, 0.6)";
  c.lineWidth = 0.9;
  for (const turn of [0.4, 2.5, 4.4]) {
    c.beginPath();
    c.arc(head * 0.5 * Math.cos(turn), head * 0.5 * Math.sin(turn), head * 0.75, turn + 2, turn + 4.2);
    c.stroke();
  }
}

function flower(c, x, y, size) {
  for (let n = 0; n < 5; n++) {
    const turn = (TAU * n) / 5;
    oval(c, x + size * 0.55 * Math.cos(turn), y + size * 0.55 * Math.sin(turn), size * 0.5, size * 0.34, "#ffd928", "#7a5a00", turn, 0.7);
  }
  oval(c, x, y, size * 0.26, size * 0.26, "#e08a00", null);
}

function fruit(c, x, y, size, turn) {
  oval(c, x, y, size, size * 0.36, "#2f7d32", "#0f2d12", turn, 1);
  oval(c, x - size * 0.15 * Math.cos(turn), y - size * 0.15 * Math.sin(turn), size * 0.62, size * 0.09, "#9ad37f", null, turn);
}

// Aphids are a density, not individuals: specks that grow denser with every doubling.
function aphidSpecks(c, x, y, radius, level, spot) {
  const specks = Math.min(26, Math.max(0, level / 4 - 2) * 3);
  c.fillStyle = "#e7ecec";
  c.strokeStyle = "#3d4747";
  c.lineWidth = 0.6;
  for (let n = 0; n < specks; n++) {
    const far = radius * 0.85 * Math.sqrt(lot(spot, n, 31)), turn = TAU * lot(spot, n, 32);
    c.beginPath();
    c.rect(x + far * Math.cos(turn) - 0.9, y + far * Math.sin(turn) - 0.9, 1.9, 1.9);
    c.fill();
    c.stroke();
  }
}
