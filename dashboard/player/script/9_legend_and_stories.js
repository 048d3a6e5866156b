// What the drawings mean, and whose story is told. Then the door by which Streamlit comes in.

Object.assign(Player.prototype, {
  buildLegend() {
    const { data } = this, words = data.words, legend = this.find("legend");
    const list = (head, items) => {
      if (!items.length) return;
      const title = document.createElement("h4"), rows = document.createElement("ul");
      title.textContent = head;
      for (const [draw, text] of items) {
        const row = document.createElement("li"), canvas = document.createElement("canvas");
        canvas.width = canvas.height = 68;
        canvas.setAttribute("aria-hidden", "true");
        const c = canvas.getContext("2d");
        c.scale(2, 2);
        c.fillStyle = "#b9cf9c";
        c.fillRect(0, 0, 34, 34);
        draw(c);
        const say = document.createElement("span");
        say.textContent = text;
        row.append(canvas, say);
        rows.append(row);
      }
      legend.append(title, rows);
    };
    const head = document.createElement("h3"), summary = document.createElement("summary");
    head.textContent = words.legend;
    summary.append(head);
    legend.replaceChildren(summary);
    const kinds = new Set(this.films.flatMap((film) => film.nests.map((one) => one.kind)));
    const number = new Intl.NumberFormat(data.locale);
    list(words.insectsHead, data.kinds.map((one) => [
      (c) => put(c, one.draw, 17, 17, 26, 2), `${one.name} × ${number.format(one.each)}`,
    ]));
    list(words.birdsHead, [
      ...data.birds.filter((_, kind) => kinds.has(kind)).map((one) => [(c) => put(c, one.draw, 17, 17, 28, 2), one.name]),
      ...data.bees.map((one) => [
        (c) => put(c, one.draw, 17, 17, 26, 2), `${one.name} × ${number.format(one.each)}`,
      ]),
    ]);
    const isAny = (name) => this.films.some((film) => film[name].some(Boolean)); // what never comes is not explained
    list(words.bedsHead, [
      [(c) => this.stampPlant(c, 0), words.leaf],
      [(c) => this.stampPlant(c, 33), words.bite],
      ...(isAny("aphids") ? [[(c) => aphidSpecks(c, 17, 17, 14, 40, 3), words.aphids]] : []),
      [(c) => { c.fillStyle = LIGHT.soil; c.fillRect(0, 0, 34, 22); c.fillStyle = LIGHT.strip; c.fillRect(0, 22, 34, 12); }, words.soil],
      ...(isAny("net") ? [[(c) => drawMark(c, "net", 17, 17, 28, "#17231a"), words.net]] : []),
      ...(this.films.some((film) => film.open.some((share, n) => share > 2 && film.net[n]))
        ? [[(c) => { drawMark(c, "net", 12, 17, 20, "#17231a"); c.setLineDash([3, 3]); c.strokeRect(22, 8, 9, 18); c.setLineDash([]); }, words.netOpen]] : []),
      [(c) => { c.strokeStyle = "#5a0f6e"; c.lineWidth = 2.4; c.beginPath(); c.arc(17, 17, 10, 0, TAU); c.stroke(); }, words.ring],
      ...(isAny("away")
        ? [[(c) => { line(c, [[5, 10], [16, 26], [28, 9]], "#17231a", 2.6); line(c, [[21, 9], [28, 9], [28, 16]], "#17231a", 2.6); }, words.bounce]] : []),
    ]);
    const used = new Set(this.films.flatMap((film) => film.events.map((event) => event.mark)));
    list(words.marksHead, [
      ...(data.stops.length ? [[(c) => drawMark(c, "ask", 17, 17, 26, "#17231a"), words.question]] : []),
      ...Object.entries(words.marks).filter(([name]) => used.has(name))
        .map(([name, text]) => [(c) => drawMark(c, name, 17, 17, 26, "#17231a"), text]),
      [(c) => { c.fillStyle = "#2668c4"; for (const [x, h] of [[8, 10], [14, 20], [20, 6], [26, 14]]) c.fillRect(x, 6, 3, h); }, words.rain],
    ]);
    const note = document.createElement("p");
    note.className = "note";
    note.textContent = [
      words.notScale, data.ground.each.some((each) => each > 1) ? words.several : "", this.maps[0].ground?.squeezed ? words.squeezed : "",
    ].filter(Boolean).join(" ");
    legend.append(note);
  },

  stampPlant(c, holes) {
    const crop = this.data.ground.crop[0], picture = plantPicture(crop, 15, holes, 1, 0, 2, 2);
    c.fillStyle = LIGHT.soil;
    c.fillRect(0, 0, 34, 34);
    c.drawImage(picture, 17 - picture.width / 4, 17 - picture.height / 4, picture.width / 2, picture.height / 2);
  },

  isThere(map, thing) {
    return thing.kind !== "insect" || map.followedAt(thing.number, this.day) !== null;
  },

  onKey(event, map, things) {
    const move = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1, Home: "first", End: "last" }[event.key];
    if (move === undefined && event.key !== "Enter" && event.key !== " ") return;
    event.preventDefault();
    const open = map.things.filter((thing) => this.isThere(map, thing));
    const at = open.findIndex((thing) => map.active && thing.kind === map.active.kind && thing.number === map.active.number);
    if (event.key === "Enter" || event.key === " ") {
      if (at >= 0) this.openStory(map, open[at], things);
      return;
    }
    const to = move === "first" ? 0 : move === "last" ? open.length - 1 : at < 0 ? 0 : (at + move + open.length) % open.length;
    this.activate(map, open[to], things);
  },

  activate(map, thing, things) {
    for (const one of map.things) one.option.setAttribute("aria-selected", String(one === thing));
    things.setAttribute("aria-activedescendant", thing.option.id);
    map.active = thing;
    this.paint(0);
  },

  openStory(map, thing, things) {
    if (this.isPlaying) this.pause();
    if (things) this.activate(map, thing, things);
    this.find("legend").open = false; // the story stands below it
    this.find("whose").value = `${this.maps.indexOf(map)} ${thing.kind} ${thing.number}`;
    this.find("live").textContent = this.data.words.opened.replace("{name}", thing.name);
    this.send({ plan: map.film.plan, kind: thing.kind, number: thing.number, day: this.day });
  },

  fillChoices() {
    const whose = this.find("whose"), kept = whose.value, words = this.data.words;
    whose.replaceChildren();
    this.maps.forEach((map, n) => {
      for (const [kind, name] of [["nest", words.nests], ["insect", words.insects], ["plant", words.plants]]) {
        const group = document.createElement("optgroup");
        group.label = this.maps.length > 1 ? `${map.film.title}: ${name}` : name;
        for (const thing of map.things) {
          if (thing.kind === kind && this.isThere(map, thing)) group.append(new Option(thing.name, `${n} ${kind} ${thing.number}`));
        }
        if (group.children.length) whose.append(group);
      }
    });
    if ([...whose.options].some((one) => one.value === kept)) whose.value = kept;
  },

  openChosen() {
    const [n, kind, number] = this.find("whose").value.split(" ");
    const map = this.maps[Number(n)];
    if (map) this.openStory(map, map.things.find((one) => one.kind === kind && one.number === Number(number)), null);
  },
});

function pixel(colour) {
  const c = document.createElement("canvas").getContext("2d");
  c.fillStyle = colour;
  c.fillRect(0, 0, 1, 1);
  return [...c.getImageData(0, 0, 1, 1).data].slice(0, 3);
}

function luminance(colour) {
  const [red, green, blue] = pixel(colour);
  return (0.2126 * red + 0.7152 * green + 0.0722 * blue) / 255;
}

// The day in hand, for as long as the page is open: another view or another screen leads back to it.
const rememberedDays = (window.gardenMapDays ||= new Map());

// Streamlit calls this again after every run of its page; the film that is on goes on.
export default function ({ parentElement, data, setTriggerValue }) {
  const root = parentElement.querySelector(".player");
  const send = (wish) => setTriggerValue("story", wish);
  if (root.filmId === data.id) {
    if (root.player) {
      root.player.send = send;
      root.player.resize();
    }
    return;
  }
  root.filmId = data.id;
  if (root.player) root.player.close();
  Promise.all(data.plans.map((plan) => openFilm(plan, data))).then((films) => {
    if (root.filmId !== data.id) return;
    const day = rememberedDays.get(data.clock) || 0;
    const player = new Player(root, data, films, send);
    player.goTo(day, true);
    player.isOpen = true; // from now on a question may move the page to itself
    root.dataset.ready = "yes";
  });
  return () => {
    root.filmId = null;
    if (root.player) root.player.close();
  };
}
