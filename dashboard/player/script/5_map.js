// The garden from above. What stands still on a day is drawn once for that day.

class GardenMap {
  constructor(film, data, canvas) {
    this.film = film;
    this.data = data;
    this.canvas = canvas;
    this.dayLayer = document.createElement("canvas");
    this.base = document.createElement("canvas");
    this.drawnDay = -1;
    this.active = null;
    this.closeUp = -1;
  }

  resize(width, dark) {
    this.ratio = this.wantedRatio || Math.min(window.devicePixelRatio || 1, 2);
    this.colours = dark ? DARK : LIGHT;
    this.ground = new Ground(this.data.ground, width, this.closeUp, this.data.room);
    for (const one of [this.canvas, this.dayLayer, this.base]) {
      one.width = Math.round(width * this.ratio);
      one.height = Math.round(this.ground.height * this.ratio);
    }
    this.canvas.style.aspectRatio = `${this.canvas.width} / ${this.canvas.height}`;
    this.size = Math.max(12, Math.min(30, this.ground.scale * (this.data.room ? 0.38 : 0.3)));
    this.birdSize = Math.max(30, Math.min(56, this.size * 2.2));
    this.letters = this.data.room || (width < 480 ? 13 : Math.max(14, Math.min(19, width / 52)));
    this.boxes = this.data.ground.beds.map((bed) => this.ground.box(bed.box));
    this.namesMeet = this.doNamesMeet();
    this.rowNames = this.isCrowded() ? this.placeRowNames() : [];
    this.places();
    this.drawBase();
    this.drawnDay = -1;
  }

  places() {
    const g = this.data.ground, wild = g.bed.filter((bed) => bed === g.beds.length).length;
    let seen = 0;
    this.spots = g.x.map((x, spot) => {
      if (g.bed[spot] < g.beds.length) return this.ground.at(x, g.y[spot]);
      return this.ground.edge((seen++ + 0.5) / wild);
    });
    const count = this.film.nests.length;
    this.nestAt = this.film.nests.map((_, nest) => [
      (this.ground.width * (nest + 0.5)) / Math.max(count, 1), this.ground.topRoom * 0.4,
    ]);
  }

  context(canvas) {
    const c = canvas.getContext("2d");
    c.setTransform(this.ratio, 0, 0, this.ratio, 0, 0);
    return c;
  }

  drawBase() {
    const c = this.context(this.base), k = this.colours, { width, height } = this.ground;
    c.fillStyle = k.grass;
    c.fillRect(0, 0, width, height);
    c.strokeStyle = k.grassMark;
    c.lineWidth = 1.3;
    for (let n = 0; n < (width * height) / 700; n++) {
      const x = width * lot(n, 1, 1), y = height * lot(n, 2, 2);
      c.beginPath();
      c.moveTo(x - 2, y - 4); c.lineTo(x, y); c.lineTo(x + 2.5, y - 5);
      c.stroke();
    }
    const all = this.boxes, left = Math.min(...all.map((b) => b.x)), top = Math.min(...all.map((b) => b.y));
    const right = Math.max(...all.map((b) => b.x + b.w)), bottom = Math.max(...all.map((b) => b.y + b.h));
    c.fillStyle = k.path;
    c.beginPath();
    c.roundRect(left - 16, top - 14, right - left + 32, bottom - top + 30, 16);
    c.fill();
    this.data.ground.beds.forEach((bed, n) => this.drawBed(c, this.boxes[n]));
  }

  strip(box) {
    return Math.min(this.size * 1.3, Math.max(8, this.ground.scale * SOIL_STRIP));
  }

  drawBed(c, box) {
    const k = this.colours, deep = this.strip(box);
    c.fillStyle = k.strip;
    c.beginPath();
    c.roundRect(box.x - 2, box.y + box.h - 4, box.w + 4, deep + 6, 5);
    c.fill();
    c.fillStyle = k.soil;
    c.strokeStyle = k.rim;
    c.lineWidth = 2.5;
    c.beginPath();
    c.roundRect(box.x - 2, box.y - 2, box.w + 4, box.h + 4, 6);
    c.fill();
    c.stroke();
    c.strokeStyle = k.row;
    c.lineWidth = 2;
    for (let y = box.y + 5; y < box.y + box.h - 2; y += 8) {
      c.beginPath();
      c.moveTo(box.x + 3, y);
      c.lineTo(box.x + box.w - 3, y);
      c.stroke();
    }
  }

  radius(spot, day) {
    const g = this.data.ground, steps = this.film.at("leaf", spot, day);
    const leafM2 = (steps * steps * this.data.leafScale) / 1e4;
    const several = Math.sqrt(g.each[spot]);
    const most = 0.66 * Math.sqrt(g.ground[spot]) * several;
    const metres = Math.min(most, Math.sqrt((leafM2 * 0.5) / Math.PI) * several);
    if (g.bed[spot] === g.beds.length) return Math.max(4, Math.min(15, 4 + steps * 0.12));
    return steps ? Math.max(3, metres * this.ground.scale) : 0;
  }

  drawDay(day) {
    const c = this.context(this.dayLayer), film = this.film;
    c.drawImage(this.base, 0, 0, this.ground.width, this.ground.height);
    this.radii = this.spots.map((_, spot) => this.radius(spot, day));
    this.spots.forEach((at, spot) => this.drawPlant(c, spot, at, day));
    this.drawSitting(c, day);
    this.boxes.forEach((box, bed) => {
      if (film.at("net", bed, day)) this.drawNet(c, box, film.at("open", bed, day) / 100);
    });
    this.boxes.forEach((box, bed) => this.drawTags(c, box, bed, day));
    if (this.closeUp < 0) for (const { words, x, y } of this.rowNames) this.pill(c, words, x, y);
    this.drawNests(c, day);
    this.lookUpDay(day);
    this.drawnDay = day;
  }

  // Close to one bed, the edge of the garden and the other beds are out of the picture.
  isInView(spot) {
    return this.closeUp < 0 || this.data.ground.bed[spot] === this.closeUp;
  }

  drawPlant(c, spot, [x, y], day) {
    const film = this.film, look = film.at("looks", spot, day);
    if (look === LOOK.absent || !this.isInView(spot)) return;
    if (look === LOOK.gone) {
      oval(c, x, y, 3.4, 2.2, "#2b1d12", null);
      return;
    }
    const crop = this.data.ground.crop[spot], steps = film.at("head", spot, day);
    const radius = this.radii[spot];
    if (!radius) return;
    const shown = Math.max(3, Math.round(radius));
    const headM2 = (steps * steps * this.data.headScale) / 1e4;
    const head = Math.min(Math.round(Math.sqrt(headM2 / (4 * Math.PI)) * this.ground.scale * 1.25), Math.round(shown * 0.62));
    const holes = Math.round(film.at("holes", spot, day) / 3) * 3;
    const picture = plantPicture(crop, shown, holes, look === LOOK.dead ? look : 1, head, spot % VARIANTS, this.ratio);
    const room = picture.width / this.ratio;
    c.drawImage(picture, onPixel(x - room / 2, this.ratio), onPixel(y - room / 2, this.ratio), room, room);
    const fruits = Math.min(film.at("fruits", spot, day), 5), flowers = Math.min(film.at("flowers", spot, day), 4);
    for (let n = 0; n < fruits; n++) {
      const turn = TAU * lot(spot, n, 41), far = radius * (0.3 + 0.6 * lot(spot, n, 42));
      fruit(c, x + far * Math.cos(turn), y + far * Math.sin(turn), Math.max(5, this.size * 0.55), turn);
    }
    for (let n = 0; n < flowers; n++) {
      const turn = TAU * lot(spot, n, 51), far = radius * (0.45 + 0.5 * lot(spot, n, 52));
      flower(c, x + far * Math.cos(turn), y + far * Math.sin(turn), Math.max(5, this.size * 0.5));
    }
    aphidSpecks(c, x, y, radius, film.at("aphids", spot, day), spot);
  }

  // How many drawings stand for a count: the odds of the last one belong to the place, so numbers come out right.
  drawings(count, each, place, kind) {
    return count ? Math.floor(count / each + lot(place, kind, 5)) : 0;
  }

  onPlant(spot, kind, n) {
    const [x, y] = this.spots[spot], reach = Math.max(this.radii[spot] * 0.9, this.size * 0.5);
    const far = reach * Math.sqrt(lot(spot, kind, 100 + n)), turn = TAU * lot(spot, kind, 200 + n);
    return [x + far * Math.cos(turn), y + far * Math.sin(turn), turn];
  }

  drawSitting(c, day) {
    const { film, data } = this, soil = film.spots + film.beds;
    for (const one of data.kinds) {
      const form = one.kind % 4, isTurned = form === 1;
      if (form !== 3) {
        for (let spot = 0; spot < film.spots; spot++) {
          if (!this.isInView(spot)) continue;
          const count = this.drawings(film.count(one.kind, spot, day), one.each, spot, one.kind);
          for (let n = 0; n < count; n++) {
            const [x, y, turn] = this.onPlant(spot, one.kind, n);
            put(c, one.draw, x, y, form === 0 ? this.size * 0.72 : this.size, this.ratio, isTurned ? turn : 0);
          }
        }
      }
      for (let bed = 0; bed < this.boxes.length; bed++) {
        if (this.closeUp >= 0 && bed !== this.closeUp) continue;
        const count = this.drawings(film.count(one.kind, soil + bed, day), one.each, soil + bed, one.kind);
        const box = this.boxes[bed], deep = this.strip(box);
        for (let n = 0; n < count; n++) {
          put(
            c, one.draw, box.x + 5 + (box.w - 10) * lot(bed, one.kind, 300 + n),
            box.y + box.h + 2 + (deep - 2) * lot(bed, one.kind, 400 + n), this.size * 0.8, this.ratio,
          );
        }
      }
    }
  }

  drawNet(c, box, open) {
    const k = this.colours, grow = 7, x = box.x - grow, y = box.y - grow, h = box.h + 2 * grow;
    const w = (box.w + 2 * grow) * (1 - 0.7 * Math.min(open, 1));
    c.save();
    c.beginPath();
    c.roundRect(x, y, w, h, 9);
    c.fillStyle = k.veil;
    c.fill();
    c.clip();
    for (const [stroke, shift] of [[k.meshDark, 0.8], [k.mesh, 0]]) {
      c.strokeStyle = stroke;
      c.lineWidth = 0.9;
      c.beginPath();
      for (let d = -h; d < w + h; d += 8) {
        c.moveTo(x + d + shift, y); c.lineTo(x + d + h + shift, y + h);
        c.moveTo(x + d + shift, y + h); c.lineTo(x + d + h + shift, y);
      }
      c.stroke();
    }
    c.restore();
    c.strokeStyle = k.mesh;
    c.lineWidth = 2.4;
    const hoops = Math.max(2, Math.round(w / 60));
    for (let n = 0; n <= hoops; n++) {
      const at = x + 2 + ((w - 4) * n) / hoops;
      c.beginPath();
      c.moveTo(at, y);
      c.quadraticCurveTo(at + 6, y + h / 2, at, y + h);
      c.stroke();
    }
    c.lineWidth = 3.4;
    c.strokeStyle = k.ink;
    c.beginPath();
    c.roundRect(x, y, w, h, 9);
    c.stroke();
    c.lineWidth = 1.8;
    c.strokeStyle = k.mesh;
    c.stroke();
    if (open > 0.02) {
      c.setLineDash([6, 5]);
      c.strokeRect(x + w, y, (box.w + 2 * grow) - w, h);
      c.setLineDash([]);
    }
  }

  setLetters(c) {
    c.font = `600 ${this.letters}px ${this.font || "sans-serif"}`;
  }

  leftOf(x, wide) {
    return Math.max(2, Math.min(x, this.ground.width - wide - 2));
  }

  tagAbove(box) {
    return { x: box.x - 4, y: box.y - this.letters * 1.45 * 0.62 };
  }

  pill(c, words, x, y, icon) {
    this.setLetters(c);
    const high = this.letters * 1.45 * (words ? 1 : 0.7), wide = c.measureText(words).width + 12 + (icon ? high * 0.85 : 0);
    const left = this.leftOf(x, wide);
    c.fillStyle = this.colours.pill;
    c.strokeStyle = this.colours.ink;
    c.lineWidth = 1;
    c.beginPath();
    c.roundRect(left, y, wide, high, 6);
    c.fill();
    c.stroke();
    if (icon) drawMark(c, icon, left + high * 0.55, y + high / 2, high * 0.72, this.colours.ink);
    c.fillStyle = this.colours.ink;
    c.textBaseline = "middle";
    c.fillText(words, left + 6 + (icon ? high * 0.85 : 0), y + high / 2 + 1);
    return wide;
  }

  // In letters for a room a name may hide its bed, and names of many beds one another: there a bed has a number, and the
  // line below the map its name.
  isNumbered(bed) {
    const { data, closeUp } = this, box = this.boxes[bed];
    if (closeUp < 0 ? this.isCrowded() : bed !== closeUp) return false;
    if (!data.room) return closeUp < 0 && this.namesMeet;
    return this.nameWidth(bed) > box.w || this.letters * 1.45 > box.h * 0.6;
  }

  nameWidth(bed) {
    return this.pillWidth(this.data.ground.beds[bed].name);
  }

  pillWidth(words) {
    const c = this.context(this.dayLayer);
    this.setLetters(c);
    return c.measureText(words).width + 12;
  }

  doNamesMeet() {
    const high = this.letters * 1.45, tags = this.boxes.map((box, bed) => {
      const { x, y } = this.tagAbove(box), wide = this.nameWidth(bed);
      return { left: this.leftOf(x, wide), y, wide };
    });
    return tags.some((one, n) => tags.slice(n + 1).some((other) => this.doMeet(one, other, high)));
  }

  doMeet(one, other, high) {
    return Math.abs(one.y - other.y) < high && one.left < other.left + other.wide && other.left < one.left + one.wide;
  }

  isCrowded() {
    return this.data.ground.beds.length > 30;
  }

  // In a crowd, beds that are alike share one name, near their middle; who has most ground goes first, and a name that
  // would lie on another's is left out.
  placeRowNames() {
    const rows = new Map(), high = this.letters * 1.45, placed = [];
    this.data.ground.beds.forEach(({ row }, bed) => rows.set(row, [...(rows.get(row) || []), this.boxes[bed]]));
    const sum = (boxes, part) => boxes.reduce((all, box) => all + part(box), 0);
    const ground = ([, boxes]) => sum(boxes, (box) => box.w * box.h);
    for (const [words, boxes] of [...rows].sort((a, b) => ground(b) - ground(a))) {
      const wide = this.pillWidth(words), across = (box) => box.x + box.w / 2, down = (box) => box.y + box.h / 2;
      const middle = [sum(boxes, across) / boxes.length, sum(boxes, down) / boxes.length];
      const far = (box) => Math.hypot(across(box) - middle[0], down(box) - middle[1]);
      const free = boxes.sort((a, b) => far(a) - far(b))
        .map((box) => ({ words, wide, left: this.leftOf(across(box) - wide / 2, wide), y: down(box) - high / 2 }))
        .find((one) => !placed.some((other) => this.doMeet(one, other, high)));
      if (free) placed.push({ ...free, x: free.left });
    }
    return placed;
  }

  drawTags(c, box, bed, day) {
    const { film, data } = this, words = data.words, high = this.letters * 1.45;
    const tags = [];
    if (film.at("net", bed, day)) tags.push([words.netTag, "net"]);
    const sprayed = film.at("sprayed", bed, day);
    if (sprayed) {
      this.drawSpray(c, box, bed);
      data.products.forEach((name, n) => { if ((sprayed >> n) & 1) tags.push([`${words.sprayed}: ${name}`, "spray"]); });
    }
    if (film.at("picked", bed, day)) tags.push([words.picked, "basket"]);
    if (this.isCrowded() && this.closeUp < 0) return;
    if (this.closeUp >= 0 && bed !== this.closeUp) return;
    const { x: left, y } = this.tagAbove(box);
    let x = left;
    x += this.pill(c, this.isNumbered(bed) ? `${bed + 1}` : data.ground.beds[bed].name, x, y) + 3;
    let row = 0;
    for (const [said, icon] of tags) {
      const text = data.room ? "" : said;
      this.setLetters(c);
      const wide = c.measureText(text).width + 12 + high * 0.85;
      if (x + wide > box.x + box.w + 14) { row += 1; x = box.x - 4; }
      x += this.pill(c, text, x, y + row * (high + 2), icon) + 3;
    }
  }

  drawSpray(c, box, bed) {
    c.fillStyle = "rgba(38, 104, 196, 0.20)";
    c.beginPath();
    c.roundRect(box.x - 5, box.y - 5, box.w + 10, box.h + 10, 8);
    c.fill();
    for (let n = 0; n < (box.w * box.h) / 240; n++) {
      drawMark(c, "spray", box.x + box.w * lot(bed, n, 61), box.y + box.h * lot(bed, n, 62), 9, "#ffffff");
    }
  }

  distanceOf(n) {
    return this.film.nests[n].name.split(", ").pop();
  }

  // Many nests on half a screen: their distances would lie on one another, and stand in the list of stories anyway.
  doDistancesMeet() {
    const signs = this.nestAt.map(([x], n) => {
      const wide = this.pillWidth(`9 · ${this.distanceOf(n)}`);
      return { left: this.leftOf(x + this.birdSize * 0.55, wide), y: 0, wide };
    });
    return signs.some((one, n) => signs.slice(n + 1).some((other) => this.doMeet(one, other, 1)));
  }

  drawNests(c, day) {
    const size = this.birdSize, isTight = this.data.room || this.ground.width < 480 || this.doDistancesMeet();
    this.nestAt.forEach(([x, y], n) => {
      const chicks = this.film.at("nestlings", n, day);
      nest(c, x, y, size, chicks);
      const distance = this.distanceOf(n);
      const words = isTight ? (chicks ? `${chicks}` : "") : chicks ? `${chicks} · ${distance}` : distance;
      if (words) this.pill(c, words, x + size * 0.55, y - this.letters * 0.3);
    });
  }
}
