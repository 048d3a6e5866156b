// What moves: drawn every frame over the still picture of the day. Who sits and flies where is looked up once a day.

Object.assign(GardenMap.prototype, {
  draw(day, clock, isStill) {
    if (this.drawnDay !== day) this.drawDay(day);
    const c = this.context(this.canvas);
    c.drawImage(this.dayLayer, 0, 0, this.ground.width, this.ground.height);
    const time = isStill ? 0 : clock;
    this.drawGrown(c, time);
    this.drawBees(c, day, time);
    this.drawBirds(c, day, time);
    this.drawBounces(c, day, time);
    this.drawFollowed(c, day, isStill);
    this.drawActive(c, day);
  },

  // Grown insects on plants and in the air, and the plants in bloom of each bed, as they are on a day.
  lookUpDay(day) {
    const { film, data } = this;
    this.sitting = [];
    this.flying = [];
    for (const one of data.kinds) {
      if (one.kind % 4 !== 3) continue;
      for (let spot = 0; spot < film.spots; spot++) {
        if (!this.isInView(spot)) continue;
        const count = this.drawings(film.count(one.kind, spot, day), one.each, spot, one.kind);
        for (let n = 0; n < count; n++) this.sitting.push([one.draw, ...this.onPlant(spot, one.kind, n)]);
      }
      for (let bed = 0; bed < film.beds; bed++) {
        if (this.closeUp >= 0 && bed !== this.closeUp) continue;
        const place = film.spots + bed;
        const count = this.drawings(film.count(one.kind, place, day), one.each, place, one.kind);
        for (let n = 0; n < count; n++) this.flying.push([one.draw, bed, one.kind, n]);
      }
    }
    this.blooming = this.boxes.map(() => []);
    for (let spot = 0; spot < film.spots; spot++) {
      const bed = data.ground.bed[spot];
      if (bed < this.boxes.length && film.at("flowers", spot, day)) this.blooming[bed].push(spot);
    }
  },

  drawGrown(c, time) {
    for (const [draw, x, y, turn] of this.sitting) {
      put(c, draw, x + (time ? 1.2 * Math.sin(time * 3 + turn * 9) : 0), y, this.size, this.ratio);
    }
    for (const [draw, bed, kind, n] of this.flying) {
      const [x, y] = this.inAir(bed, kind, n, time);
      put(c, draw, x, y, this.size * 1.15, this.ratio, time ? 0.3 * Math.sin(time * 5 + n) : 0);
    }
  },

  inAir(bed, kind, n, time) {
    const a = lot(bed, kind, 500 + n), b = lot(bed, kind, 600 + n);
    const swing = 0.08 * Math.sin(time * (0.9 + a) + 7 * b), lift = 0.08 * Math.cos(time * (1.1 + b) + 9 * a);
    if (bed >= this.boxes.length) {
      const [x, y] = this.ground.edge((a + swing + 1) % 1);
      return [x + 14 * lift * 10 * (b - 0.5), y + 30 * lift];
    }
    const box = this.boxes[bed];
    return [box.x + box.w * (0.06 + 0.88 * Math.min(1, Math.max(0, a + swing))), box.y + box.h * (0.06 + 0.88 * Math.min(1, Math.max(0, b + lift)))];
  },

  drawBees(c, day, time) {
    const { film, data } = this;
    for (let bed = 0; bed < this.boxes.length; bed++) {
      const blooming = this.blooming[bed];
      data.bees.forEach((bee, kind) => {
        const visits = film.bees[(bed * 3 + kind) * film.days + day];
        const count = Math.min(24, this.drawings(visits, bee.each, bed, 90 + kind));
        for (let n = 0; n < count && blooming.length; n++) {
          const turnTaken = Math.floor(time * 0.7 + n * 1.7 + kind), spot = blooming[Math.floor(lot(bed, n + kind, turnTaken) * blooming.length)];
          const [x, y] = this.spots[spot], reach = this.radii[spot];
          const dx = reach * Math.cos(time * 4 + n * 2), dy = reach * Math.sin(time * 3.1 + n * 3);
          put(c, bee.draw, x + dx, y + dy, this.size * 1.05, this.ratio);
        }
      });
    }
  },

  // A bird of each nest goes to and fro, more often to the beds where it spends more of its day.
  drawBirds(c, day, time) {
    const { film } = this;
    film.nests.forEach((nestOf, n) => {
      const minutes = [];
      let all = 0;
      for (let bed = 0; bed < film.beds; bed++) {
        const spent = film.minutes[(n * film.beds + bed) * film.days + day];
        minutes.push(spent);
        all += spent;
      }
      if (!all) return;
      const flight = time * 0.55 + n * 0.37, trip = Math.floor(flight), part = flight - trip;
      let pick = lot(n, trip, 71) * all, bed = 0;
      while (bed < minutes.length - 1 && pick >= minutes[bed]) { pick -= minutes[bed]; bed += 1; }
      const [tx, ty] = this.landing(bed, trip, n), [nx, ny] = this.nestAt[n];
      const there = time ? Math.min(1, part / 0.3, (1 - part) / 0.3) : 1, ease = there * there * (3 - 2 * there);
      const x = nx + (tx - nx) * ease, y = ny + (ty - ny) * ease - 40 * Math.sin(Math.PI * ease);
      const peck = there === 1 && time ? 0.25 * Math.sin(time * 9) : 0;
      put(c, `bird${nestOf.kind}`, x, y, this.birdSize, this.ratio, peck, part > 0.5 ? tx > nx : tx < nx);
    });
  },

  landing(bed, trip, n) {
    if (bed >= this.boxes.length) return this.ground.edge(lot(trip, n, 72));
    const box = this.boxes[bed];
    return [box.x + box.w * (0.15 + 0.7 * lot(trip, n, 73)), box.y + box.h * (0.2 + 0.6 * lot(trip, n, 74))];
  },

  drawBounces(c, day, time) {
    const { film } = this;
    this.boxes.forEach((box, bed) => {
      const away = film.at("away", bed, day);
      if (!away) return;
      const count = Math.min(6, 1 + Math.floor(away / 4));
      for (let n = 0; n < count; n++) {
        const x = box.x + box.w * ((n + 0.5) / count), near = time ? 0.5 + 0.5 * Math.sin(time * 2.4 + n * 1.9) : 0.5;
        const y = box.y - 12 - 12 * near;
        c.strokeStyle = this.colours.ink;
        c.lineWidth = 2.2;
        c.beginPath();
        c.moveTo(x - 9, y - 4); c.quadraticCurveTo(x - 2, box.y - 9, x + 9, y - 8);
        c.lineTo(x + 3, y - 9); c.moveTo(x + 9, y - 8); c.lineTo(x + 7, y - 1);
        c.stroke();
      }
    });
  },

  followedAt(number, day) {
    const one = this.film.followed[number];
    if (day >= one.end || !one.steps.length || one.steps[0][0] > day) return null;
    let step = one.steps[0];
    for (const next of one.steps) { if (next[0] <= day) step = next; else break; }
    const [, form, place] = step, film = this.film;
    if (place < film.spots) {
      if (!this.isInView(place)) return null;
      const [x, y] = this.spots[place], far = Math.max(this.radii[place] * 0.6, 5), turn = TAU * lot(number, 3, 3);
      return [x + far * Math.cos(turn), y + far * Math.sin(turn), form];
    }
    const bed = (place - film.spots) % film.beds;
    if (this.closeUp >= 0 && bed !== this.closeUp) return null;
    const inSoil = place >= film.spots + film.beds;
    if (inSoil && bed < this.boxes.length) {
      const box = this.boxes[bed];
      return [box.x + box.w * lot(number, 4, 4), box.y + box.h + this.strip(box) / 2, form];
    }
    return [...this.inAir(bed, one.kind + form, number, 0), form];
  },

  drawFollowed(c, day, isRinged) {
    this.film.followed.forEach((one, number) => {
      const at = this.followedAt(number, day);
      if (!at) return;
      const name = one.drawings[at[2]];
      if (CREATURES[name]) put(c, name, at[0], at[1], this.size, this.ratio);
      if (!isRinged) return;
      c.strokeStyle = "#ffffff";
      c.lineWidth = 3;
      c.beginPath();
      c.arc(at[0], at[1], this.size * 0.66, 0, TAU);
      c.stroke();
      c.strokeStyle = "#5a0f6e";
      c.lineWidth = 1.4;
      c.stroke();
    });
  },

  drawActive(c, day) {
    const at = this.active && this.whereIs(this.active, day);
    if (!at) return;
    for (const [stroke, width] of [["#000000", 7], ["#ffe14a", 4]]) {
      c.strokeStyle = stroke;
      c.lineWidth = width;
      c.beginPath();
      c.arc(at[0], at[1], at[2], 0, TAU);
      c.stroke();
    }
  },

  whereIs({ kind, number }, day) {
    if (kind === "nest") return [...this.nestAt[number], this.birdSize * 0.7];
    if (kind === "plant") return [...this.spots[number], Math.max(this.radii ? this.radii[number] : 8, 8) + 5];
    const at = this.followedAt(number, day);
    return at && [at[0], at[1], this.size];
  },

  // What lies under a finger or a pointer; small things first.
  hit(x, y, day) {
    const near = (kind, number) => {
      const at = this.whereIs({ kind, number }, day);
      return at ? Math.hypot(at[0] - x, at[1] - y) - at[2] : Infinity;
    };
    let best = null, least = 6;
    for (const [kind, count] of [["insect", this.film.followed.length], ["nest", this.film.nests.length], ["plant", this.film.spots]]) {
      for (let number = 0; number < count; number++) {
        const gap = near(kind, number);
        if (gap < least) { least = gap; best = { kind, number }; }
      }
      if (best && least < 2) return best;
    }
    return best;
  },
});
