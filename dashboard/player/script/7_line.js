// The line of days: months, weather, and a row of marks for each plan.

const MARKS = {
  plant: (c, ink) => { line(c, [[12, 22], [12, 10]], ink, 2.2); oval(c, 7, 8, 5, 3, "#4c9a4f", ink, 0.5); oval(c, 17, 8, 5, 3, "#4c9a4f", ink, -0.5); },
  net: (c, ink) => {
    shape(c, "#ffffff", ink, () => c.roundRect(3, 3, 18, 18, 3), 1.8);
    for (const n of [9, 15]) { line(c, [[n, 3], [n, 21]], "#33424a", 1.4); line(c, [[3, n], [21, n]], "#33424a", 1.4); }
  },
  spray: (c, ink) => shape(c, "#2668c4", ink, () => { c.moveTo(12, 1); c.quadraticCurveTo(21, 13, 18, 18); c.arc(12, 17, 6.2, 0.2, Math.PI - 0.2); c.quadraticCurveTo(3, 13, 12, 1); }, 1.6),
  hand: (c, ink) => { oval(c, 12, 15, 6.5, 7, "#f3c9a0", ink); for (const x of [7, 10.5, 14, 17]) line(c, [[x, 11], [x, 3]], ink, 2.2); },
  egg: (c, ink) => oval(c, 12, 12, 6.5, 9, "#ffe55c", ink, 0, 1.8),
  bite: (c, ink) => shape(c, "#4c9a4f", ink, () => { c.moveTo(2, 20); c.quadraticCurveTo(2, 3, 20, 3); c.quadraticCurveTo(14, 7, 19, 10); c.quadraticCurveTo(13, 12, 16, 17); c.quadraticCurveTo(10, 22, 2, 20); }, 1.6),
  flower: (c) => flower(c, 12, 12, 13),
  basket: (c, ink) => { shape(c, null, ink, () => c.arc(12, 11, 8, Math.PI, 0), 2); shape(c, "#c98a3a", ink, () => { c.moveTo(2, 11); c.lineTo(22, 11); c.lineTo(18, 22); c.lineTo(6, 22); c.closePath(); }, 1.8); },
  nest: (c, ink) => { shape(c, "#7a5428", ink, () => { c.moveTo(1, 11); c.lineTo(23, 11); c.quadraticCurveTo(20, 22, 12, 22); c.quadraticCurveTo(4, 22, 1, 11); }, 1.8); for (const x of [7, 12, 17]) oval(c, x, 8, 3, 4, "#ffffff", ink, 0, 1.2); },
  lost: (c, ink) => { line(c, [[4, 4], [20, 20]], ink, 6); line(c, [[20, 4], [4, 20]], ink, 6); line(c, [[4, 4], [20, 20]], "#e8553a", 3.2); line(c, [[20, 4], [4, 20]], "#e8553a", 3.2); },
  caught: (c, ink) => { // the triangle of a warning, with a mesh in it: nothing else here has three corners
    shape(c, "#ffffff", ink, () => { c.moveTo(12, 2); c.lineTo(23, 22); c.lineTo(1, 22); c.closePath(); }, 2.2);
    for (const [from, to] of [[[9, 8], [17, 22]], [[6, 14], [10, 22]], [[15, 8], [7, 22]], [[18, 14], [14, 22]]]) line(c, [from, to], ink, 1.6);
  },
  ask: (c, ink) => {
    shape(c, "#ffd54a", ink, () => { c.moveTo(12, 1); c.lineTo(23, 12); c.lineTo(12, 23); c.lineTo(1, 12); c.closePath(); }, 1.8);
    shape(c, null, "#1b1b1b", () => { c.arc(12, 9.5, 3.4, Math.PI, Math.PI * 0.42); c.lineTo(12, 14.5); }, 2);
    oval(c, 12, 18, 1.4, 1.4, "#1b1b1b", null);
  },
};

const MARKS_BY_RANK = ["caught", "egg", "bite", "lost", "nest", "spray", "hand", "flower", "net", "basket", "plant"];

function drawMark(c, name, x, y, size, ink) {
  c.save();
  c.translate(x - size / 2, y - size / 2);
  c.scale(size / 24, size / 24);
  c.lineJoin = c.lineCap = "round";
  MARKS[name](c, ink);
  c.restore();
}

// Blue on either ground: the ink is light where the ground is dark.
function rainColour(ink) {
  return luminance(ink) > 0.5 ? "#6cb0ff" : "#2668c4";
}

function drawSky(canvas, sky, ink) {
  const c = canvas.getContext("2d");
  c.setTransform(canvas.width / 48, 0, 0, canvas.height / 48, 0, 0);
  c.clearRect(0, 0, 48, 48);
  c.lineCap = "round";
  if (sky === "sun") {
    for (let n = 0; n < 8; n++) {
      const turn = (TAU * n) / 8;
      line(c, [[24 + 15 * Math.cos(turn), 24 + 15 * Math.sin(turn)], [24 + 21 * Math.cos(turn), 24 + 21 * Math.sin(turn)]], ink, 3);
    }
    oval(c, 24, 24, 11, 11, "#ffcf3a", ink, 0, 2);
    return;
  }
  shape(c, sky === "rain" ? "#8fa3ad" : "#dfe7ea", ink, () => {
    c.moveTo(12, 30); c.bezierCurveTo(2, 30, 3, 18, 12, 19); c.bezierCurveTo(14, 7, 32, 7, 33, 18); c.bezierCurveTo(46, 17, 46, 30, 37, 30); c.closePath();
  }, 2);
  if (sky === "rain") for (const x of [15, 24, 33]) line(c, [[x, 34], [x - 3, 43]], rainColour(ink), 3.4);
}

class DayLine {
  constructor(canvas, data, films) {
    this.canvas = canvas;
    this.data = data;
    this.films = films;
    this.still = document.createElement("canvas");
  }

  resize(width, ink, paper, font) {
    this.ratio = Math.min(window.devicePixelRatio || 1, 2);
    this.width = width;
    this.ink = ink;
    this.paper = paper;
    this.font = font;
    this.letters = this.data.room || (width < 480 ? 12 : 14);
    this.thick = this.data.room ? 4 : 1;
    this.size = this.data.room ? 34 : width < 480 ? 15 : 20;
    this.row = this.size + 20;
    this.top = this.letters + 38;
    this.height = this.top + this.row * this.films.length + 2;
    for (const one of [this.canvas, this.still]) {
      one.width = Math.round(width * this.ratio);
      one.height = Math.round(this.height * this.ratio);
    }
    this.canvas.style.height = `${this.height}px`;
    this.drawStill();
  }

  x(day) {
    return 8 + ((this.width - 16) * day) / Math.max(1, this.data.days - 1);
  }

  drawStill() {
    const c = this.still.getContext("2d"), { data, ink } = this;
    c.setTransform(this.ratio, 0, 0, this.ratio, 0, 0);
    c.clearRect(0, 0, this.width, this.height);
    c.font = `600 ${this.letters}px ${this.font}`;
    c.textBaseline = "top";
    let free = -1;
    for (const day of data.months) {
      const x = this.x(day), words = data.dates[day].replace(/[\d.,]|\bde\b/g, "").trim().slice(0, this.width < 700 || this.data.room ? 3 : 12);
      c.strokeStyle = ink;
      c.globalAlpha = 0.35;
      line(c, [[x, 0], [x, this.height]], ink, this.thick);
      c.globalAlpha = 1;
      c.fillStyle = ink;
      if (x > free && x + c.measureText(words).width < this.width) { c.fillText(words, x + 3, 0); free = x + c.measureText(words).width + 4; }
    }
    const rain = rainColour(ink);
    for (let day = 0; day < data.days; day++) {
      const deep = Math.min(24, data.rain[day] * 0.8);
      if (deep) { c.fillStyle = rain; c.fillRect(this.x(day) - 1, this.letters + 6, Math.max(2, this.thick), deep); }
    }
    const asks = [...new Set(data.stops.map((stop) => stop.day))];
    for (const day of asks) drawMark(c, "ask", this.x(day), this.letters + 28, this.size, ink);
    this.films.forEach((film, n) => this.drawRow(c, film, this.top + n * this.row));
  }

  drawRow(c, film, y) {
    const base = y + this.size + 6;
    line(c, [[8, base + 9], [this.width - 8, base + 9]], this.ink, this.thick);
    for (let day = 0; day < film.days; day++) {
      let covered = 0;
      for (let bed = 0; bed < film.beds - 1; bed++) covered += film.at("net", bed, day) > 0;
      if (!covered) continue;
      const share = covered / (film.beds - 1), x = this.x(day), step = this.x(1) - this.x(0);
      c.fillStyle = "#ffffff";
      c.fillRect(x, base + 1, step + 0.6, 8);
      c.fillStyle = day % 4 < 2 ? "#33424a" : "#7d8f98";
      c.fillRect(x, base + 9 - 8 * share, step + 0.6, 8 * share);
    }
    for (const { day, mark } of this.sorted(film.events).drawn) {
      const low = mark === "spray";
      drawMark(c, mark, this.x(day), low ? base + 6 : y + this.size / 2, low ? this.size * 0.7 : this.size, this.ink);
    }
  }

  // Which marks are drawn and which have no room: the first of each kind has it before any second one, and what happens
  // to leaves and nests before what everybody expects.
  sorted(events) {
    const first = MARKS_BY_RANK.map((mark) => events.find((event) => event.mark === mark));
    const rank = (event) => MARKS_BY_RANK.indexOf(event.mark) + (first.includes(event) ? 0 : MARKS_BY_RANK.length);
    const drawn = [], left = [];
    for (const event of [...events].sort((one, other) => rank(one) - rank(other) || one.day - other.day)) {
      const isLow = event.mark === "spray", apart = this.size * (isLow ? 0.35 : 0.6);
      const isCrowded = drawn.some((one) =>
        (one.mark === "spray") === isLow && Math.abs(this.x(one.day) - this.x(event.day)) < apart);
      (isCrowded && event.mark !== "caught" ? left : drawn).push(event); // nobody shall miss that one
    }
    return { drawn: drawn.sort((one, other) => one.day - other.day), left };
  }

  // What has no room, in words: of each plan how many marks of which kind.
  leftOut() {
    const { words } = this.data;
    return this.films.flatMap((film) => {
      const { left } = this.sorted(film.events);
      const counts = MARKS_BY_RANK.map((mark) => [words.marks[mark], left.filter((event) => event.mark === mark).length]);
      const marks = counts.filter(([, count]) => count).map(([mark, count]) => words.leftOutMark.replace("{mark}", mark).replace("{count}", count));
      return marks.length ? [words.leftOut.replace("{plan}", film.title).replace("{marks}", marks.join("; "))] : [];
    });
  }

  draw(day) {
    const c = this.canvas.getContext("2d"), x = this.x(day);
    c.setTransform(this.ratio, 0, 0, this.ratio, 0, 0);
    c.clearRect(0, 0, this.width, this.height);
    c.drawImage(this.still, 0, 0, this.width, this.height);
    line(c, [[x, 0], [x, this.height]], this.paper, 7);
    line(c, [[x, 0], [x, this.height]], this.ink, 4);
  }
}
