// The day in hand as a picture to take away: drawn anew in this browser, larger than on the screen; nobody is asked.

const ON_PAPER = { width: 710, ratio: 3, dots: 300 }, MARGIN = 14, TITLE = 22, WORDS = 14;
const INCHES_A_METRE = 39.3701;

Object.assign(Player.prototype, {
  buildTake() {
    const { data, find } = this, words = data.words;
    find("take").hidden = data.room > 0;
    find("take-head").textContent = words.take;
    find("take-for-label").querySelector("span").textContent = words.takeFor;
    find("take-for").replaceChildren(new Option(words.takeScreen, "screen"), new Option(words.takePaper, "paper"));
    find("take-picture").textContent = words.takePicture;
    find("take-words").textContent = words.takeWords;
    find("take-note").textContent = words.takeNote;
    find("take-picture").onclick = () => this.takePicture().then((blob) => this.handOver(blob, "png"));
    find("take-words").onclick = () => this.handOver(new Blob([this.wordsOfDay()], { type: "text/plain" }), "txt");
  },

  titleOfDay() {
    return `${this.data.dates[this.day]}. ${this.data.skies[this.day].words}`;
  },

  // What the picture says to those who cannot see it, with where it comes from.
  wordsOfDay() {
    const number = new Intl.NumberFormat(this.data.locale);
    const said = this.maps.map((map) => [
      this.data.words.picture.replace("{plan}", map.film.title).split(". ")[0].replace(/\.?$/, "."),
      `${map.figures.map((one) => `${one.name}: ${number.format(one.values[this.day])}`).join("; ")}.`,
    ].join(" "));
    return `${[this.titleOfDay(), ...said, this.data.words.notScale, this.data.foot].join("\n\n")}\n`;
  },

  async takePicture() {
    const isPaper = this.find("take-for").value === "paper";
    const width = isPaper ? ON_PAPER.width : Math.max(480, this.maps[0].ground.width);
    const ratio = isPaper ? ON_PAPER.ratio : 2;
    const maps = this.maps.map((map) => this.drawnAnew(map, width, ratio));
    const font = this.maps[0].font || "sans-serif", wide = width + 2 * MARGIN;
    const sheet = document.createElement("canvas"), c = sheet.getContext("2d");
    const scale = isPaper ? (ratio * width) / wide : ratio;
    const blocks = this.blocksOf(c, maps, width, font);
    const high = blocks.reduce((sum, one) => sum + one.high, 2 * MARGIN);
    sheet.width = Math.round(wide * scale);
    sheet.height = Math.round(high * scale);
    c.setTransform(scale, 0, 0, scale, 0, 0);
    c.fillStyle = "#ffffff";
    c.fillRect(0, 0, wide, high);
    let y = MARGIN;
    for (const one of blocks) {
      one.draw(MARGIN, y);
      y += one.high;
    }
    const blob = await new Promise((done) => sheet.toBlob(done, "image/png"));
    const dots = isPaper ? ON_PAPER.dots : 96 * ratio;
    return new Blob([withNotes(new Uint8Array(await blob.arrayBuffer()), dots, this.wordsOfDay())], { type: "image/png" });
  },

  drawnAnew(map, width, ratio) {
    const anew = new GardenMap(map.film, this.data, document.createElement("canvas"));
    anew.closeUp = map.closeUp;
    anew.font = map.font;
    anew.things = [];
    anew.wantedRatio = ratio;
    anew.resize(width, false);
    anew.draw(this.day, 0, true);
    return anew;
  },

  // From top to bottom: the day; of each plan its name, its map and its figures; notes; where it comes from.
  blocksOf(c, maps, width, font) {
    const number = new Intl.NumberFormat(this.data.locale);
    const text = (words, size, weight = "") => wordsBlock(c, words, width, `${weight} ${size}px ${font}`, size);
    const blocks = [text(this.titleOfDay(), TITLE, "700")];
    maps.forEach((map, n) => {
      blocks.push(text(map.film.title, WORDS + 2, "700"));
      blocks.push({ high: map.ground.height + 4, draw: (x, y) => c.drawImage(map.canvas, x, y, width, map.ground.height) });
      const said = this.maps[n].figures.map((one) => `${number.format(one.values[this.day])} ${one.name}`).join(" · ");
      blocks.push(text(said, WORDS));
    });
    const kinds = this.data.kinds.map((one) => `${one.name} × ${number.format(one.each)}`).join("; ");
    blocks.push(text(`${this.data.words.notScale} ${this.data.words.takeEach.replace("{kinds}", kinds)}`, WORDS - 1));
    blocks.push(text(this.data.foot, WORDS - 1));
    return blocks;
  },

  handOver(blob, end) {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(blob);
    link.download = `garden_${this.day + 1}.${end}`;
    link.click();
    URL.revokeObjectURL(link.href);
  },
});

function wordsBlock(c, words, width, font, size) {
  c.font = font;
  const lines = [];
  for (const word of words.split(" ")) {
    const longer = lines.length ? `${lines[lines.length - 1]} ${word}` : word;
    if (lines.length && c.measureText(longer).width <= width) lines[lines.length - 1] = longer;
    else lines.push(word);
  }
  const step = size * 1.3;
  return {
    high: lines.length * step + 6,
    draw: (x, y) => {
      c.font = font;
      c.fillStyle = "#17231a";
      c.textBaseline = "top";
      lines.forEach((one, n) => c.fillText(one, x, y + n * step));
    },
  };
}

// A PNG tells its size on paper and its words in pieces of its own, which go in behind its head.
function withNotes(png, dots, words) {
  const perMetre = Math.round(dots * INCHES_A_METRE), size = new Uint8Array(9);
  new DataView(size.buffer).setUint32(0, perMetre);
  new DataView(size.buffer).setUint32(4, perMetre);
  size[8] = 1;
  const text = new TextEncoder().encode(`Description\0\0\0\0\0${words}`), head = 33;
  return new Blob([png.slice(0, head), piece("pHYs", size), piece("iTXt", text), png.slice(head)]);
}

function piece(kind, content) {
  const whole = new Uint8Array(12 + content.length), view = new DataView(whole.buffer);
  view.setUint32(0, content.length);
  whole.set(new TextEncoder().encode(kind), 4);
  whole.set(content, 8);
  view.setUint32(8 + content.length, checksum(whole.subarray(4, 8 + content.length)));
  return whole;
}

function checksum(bytes) {
  let sum = 0xffffffff;
  for (const one of bytes) {
    sum ^= one;
    for (let bit = 0; bit < 8; bit++) sum = sum & 1 ? (sum >>> 1) ^ 0xedb88320 : sum >>> 1;
  }
  return (sum ^ 0xffffffff) >>> 0;
}
