// Where things lie on the picture, and its colours by day and in a dark room.

const SOIL_STRIP = 0.2;
const LIGHT = {
  grass: "#c9dfae", grassMark: "#b5d096", path: "#eadfc3", soil: "#8d6a49", row: "#7c5b3d", strip: "#4a3423",
  rim: "#5e442c", pill: "rgba(255,255,250,0.94)", ink: "#17231a", veil: "rgba(255,255,255,0.36)", mesh: "#ffffff",
  meshDark: "rgba(40,60,70,0.55)",
};
const DARK = {
  grass: "#33472f", grassMark: "#3c5437", path: "#5c5546", soil: "#59422f", row: "#4c3827", strip: "#2a1d13",
  rim: "#1c130b", pill: "rgba(16,22,17,0.94)", ink: "#f3f7ef", veil: "rgba(225,238,245,0.26)", mesh: "#f4fbff",
  meshDark: "rgba(10,20,26,0.6)",
};

class Ground {
  // Metres to pixels, for the whole garden or one bed; what is long lies down on a wide screen, stands up on a phone.
  constructor(ground, width, closeUp, room) {
    const shown = closeUp < 0 ? ground.beds : [ground.beds[closeUp]];
    this.left = Math.min(...shown.map((bed) => bed.box[0]));
    this.bottom = Math.min(...shown.map((bed) => bed.box[1]));
    const right = Math.max(...shown.map((bed) => bed.box[0] + bed.box[2])) - this.left;
    const top = Math.max(...shown.map((bed) => bed.box[1] + bed.box[3])) - this.bottom;
    const isWide = width >= 480;
    this.turned = isWide ? top > right : right > top;
    const long = this.turned ? top : right, deep = this.turned ? right : top;
    this.width = width;
    this.side = width < 480 ? 30 : 46;
    this.topRoom = width < 480 ? 62 : room ? 130 : 74;
    this.bottomRoom = width < 480 ? 34 : 44;
    const inner = width - 2 * this.side;
    this.sx = inner / long;
    const wanted = deep * this.sx;
    const least = width * 0.26, most = width * (room ? 0.36 : isWide ? 0.56 : 1.25);
    this.innerHeight = Math.min(most, Math.max(least, wanted));
    this.sy = this.innerHeight / deep;
    if (wanted > most && wanted < most * 1.35) {
      this.sy = this.sx = most / deep;
      this.side = (width - long * this.sx) / 2;
    } else if (wanted < least && wanted > least * 0.6) {
      this.sy = this.sx;
      this.innerHeight = wanted;
    }
    this.squeezed = Math.abs(this.sx / this.sy - 1) > 0.05;
    this.height = Math.round(this.innerHeight + this.topRoom + this.bottomRoom);
    this.deep = deep;
    this.scale = Math.sqrt(this.sx * this.sy);
  }

  at(x, y) {
    const across = x - this.left, along = y - this.bottom;
    const [a, b] = this.turned ? [along, across] : [across, this.deep - along];
    return [this.side + a * this.sx, this.topRoom + b * this.sy];
  }

  box([left, bottom, wide, long]) {
    const [x0, y0] = this.at(left, bottom), [x1, y1] = this.at(left + wide, bottom + long);
    return { x: Math.min(x0, x1), y: Math.min(y0, y1), w: Math.abs(x1 - x0), h: Math.abs(y1 - y0) };
  }

  // Wild plants stand round three sides, where the picture has room for them.
  edge(part) {
    const tall = this.height - this.topRoom, whole = 2 * tall + this.width, inset = Math.min(this.side, 40) / 2;
    let at = part * whole;
    if (at < tall) return [inset, this.topRoom + at - 8];
    at -= tall;
    if (at < this.width) return [Math.min(Math.max(at, inset), this.width - inset), this.height - this.bottomRoom / 2 + 2];
    return [this.width - inset, this.height - (at - this.width) - 8];
  }
}
