// Buttons, words, stories. The server is asked for one thing only: a story, when somebody opens it.

const NEWS_DAYS = 5;

class Player {
  constructor(root, data, films, send) {
    this.root = root;
    this.data = data;
    this.films = films;
    this.send = send;
    this.position = 0;
    this.day = 0;
    this.isPlaying = false;
    this.frames = 0;
    this.asked = new Set();
    this.calm = window.matchMedia("(prefers-reduced-motion: reduce)");
    this.find = (name) => root.querySelector(`.${name}`);
    this.build();
    this.look = new ResizeObserver(() => this.resize());
    this.look.observe(this.find("maps"));
    this.resize();
    this.frame = (now) => this.tick(now);
    this.nextFrame = requestAnimationFrame(this.frame);
    root.player = this;
  }

  close() {
    cancelAnimationFrame(this.nextFrame);
    clearInterval(this.steps);
    this.look.disconnect();
  }

  // -- what stands on the page

  build() {
    const { data, find } = this, words = data.words;
    this.root.classList.toggle("room", data.room > 0);
    this.root.style.setProperty("--letters", `${data.room}px`);
    find("start").textContent = words.start;
    find("back").textContent = words.back;
    find("forth").textContent = words.forth;
    find("speed-label").querySelector("span").textContent = words.speed;
    find("stop-label").querySelector("span").textContent = words.stopAtQuestions;
    find("whose-label").querySelector("span").textContent = words.whose;
    find("open").textContent = words.open;
    find("calm").textContent = words.calm;
    find("calm").hidden = !this.calm.matches;
    find("stop-label").hidden = !data.stops.length;
    const speed = find("speed");
    for (const [days, name] of Object.entries(words.speeds)) speed.add(new Option(name, days, days === "5", days === "5"));
    const scrub = find("scrub");
    scrub.max = data.days - 1;
    scrub.setAttribute("aria-label", words.day);
    find("maps").replaceChildren();
    this.maps = this.films.map((film, n) => this.buildMap(film, n));
    this.line = new DayLine(find("line"), data, this.films);
    find("play").onclick = () => {
      if (this.isPlaying) return this.pause();
      this.play();
      this.goToHead();
    };
    find("start").onclick = () => this.goTo(0);
    find("back").onclick = () => this.goTo(this.day - 1);
    find("forth").onclick = () => this.goTo(this.day + 1, true);
    scrub.oninput = () => this.goTo(Number(scrub.value));
    find("open").onclick = () => this.openChosen();
    find("unwatched").replaceChildren(...data.unwatched.map((one) => this.unwatched(one)));
    this.buildCloseUps();
    this.buildTake();
    this.buildLegend();
    find("legend").open = !data.room; // in a room, one tap opens it: open, it would push the choice of plans far down
  }

  unwatched({ plan, words }) {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = words;
    button.onclick = () => this.send({ plan, kind: "plan", number: 0, day: this.day });
    return button;
  }

  buildCloseUps() {
    const { find, data } = this, close = find("close"), beds = data.ground.beds;
    find("close-label").querySelector("span").textContent = data.words.lookAt;
    find("close-label").hidden = beds.length < 2;
    close.replaceChildren(new Option(data.words.wholeGarden, "-1"), ...beds.map((bed, n) => new Option(bed.name, n)));
    close.onchange = () => {
      for (const map of this.maps) map.closeUp = Number(close.value);
      this.resize();
    };
  }

  buildMap(film, n) {
    const words = this.data.words, figure = document.createElement("figure");
    figure.className = "map";
    figure.innerHTML = `<h3 class="map-title"></h3><div class="stage"><canvas role="img"></canvas>
      <div class="things" role="listbox" tabindex="0"></div></div><ul class="figures"></ul>`;
    figure.querySelector(".map-title").textContent = film.title;
    const canvas = figure.querySelector("canvas"), things = figure.querySelector(".things");
    canvas.setAttribute("aria-label", words.picture.replace("{plan}", film.title));
    things.setAttribute("aria-label", words.map.replace("{plan}", film.title));
    const map = new GardenMap(film, this.data, canvas);
    map.things = [];
    const add = (kind, number, name) => {
      const option = document.createElement("div");
      option.setAttribute("role", "option");
      option.setAttribute("aria-selected", "false");
      option.id = `thing-${n}-${kind}-${number}`;
      option.className = "visually-hidden";
      option.textContent = name;
      things.append(option);
      map.things.push({ kind, number, name, option });
    };
    film.nests.forEach((nestOf, number) => add("nest", number, nestOf.name));
    this.data.ground.spotNames.forEach((name, number) => add("plant", number, name));
    film.followed.forEach((one, number) => add("insect", number, one.name));
    things.onkeydown = (event) => this.onKey(event, map, things);
    things.onclick = (event) => {
      const box = things.getBoundingClientRect(), zoom = map.ground.width / box.width;
      const found = map.hit((event.clientX - box.left) * zoom, (event.clientY - box.top) * zoom, this.day);
      if (found) this.openStory(map, map.things.find((one) => one.kind === found.kind && one.number === found.number), things);
    };
    map.figures = film.figures.map((one) => {
      const item = document.createElement("li"), value = document.createElement("b"), name = new Text();
      item.append(value, " ", name);
      item.className = one.main ? "main" : "other";
      figure.querySelector(".figures").append(item);
      return { ...one, value, said: name };
    });
    this.find("maps").append(figure);
    map.element = figure;
    return map;
  }

  resize() {
    const host = getComputedStyle(this.root), paper = host.getPropertyValue("--st-background-color").trim() || "#ffffff";
    const dark = luminance(paper) < 0.4;
    this.root.classList.toggle("dark", dark);
    const style = getComputedStyle(this.root), font = style.fontFamily;
    for (const map of this.maps) {
      const width = Math.round(map.element.clientWidth);
      if (width < 50) return;
      map.font = font;
      map.resize(width, dark);
    }
    this.line.resize(Math.max(100, this.find("season").clientWidth), style.color, paper, font);
    this.lineDay = -1;
    this.nameLeftOut();
    this.ink = style.color;
    this.buildLegend();
    this.nameNumbers();
    this.show();
    this.paint(0);
  }

  // Both maps are of one garden and equally wide, so the first speaks for both.
  nameNumbers() {
    const map = this.maps[0], line = this.find("bed-numbers"), { bedNumbers, bedNumber } = this.data.words;
    const said = this.data.ground.beds.flatMap((bed, n) =>
      map.isNumbered(n) ? [bedNumber.replace("{number}", n + 1).replace("{bed}", bed.name).replaceAll(" ", "\u00a0")] : []);
    line.hidden = !said.length;
    line.textContent = bedNumbers.replace("{beds}", said.join(" · "));
  }

  nameLeftOut() {
    const said = this.line.leftOut(), note = this.find("left-out"), { allInWords } = this.data.words;
    note.hidden = !said.length;
    note.textContent = [...said, ...(this.data.room ? [] : [allInWords])].join(" "); // a room has no such words below
  }

  // The map's ink and the ground of its tags, as numbers: what a test of contrast asks for.
  colours(room) {
    const { ink, pill } = room === "DARK" ? DARK : LIGHT;
    return [ink, pill].map((colour) => pixel(colour));
  }

  // -- what is said and shown of a day

  show() {
    const { find, data, day } = this;
    rememberedDays.set(data.clock, day);
    find("date").textContent = data.dates[day];
    find("weather").textContent = data.skies[day].words;
    if (this.ink) drawSky(find("sky"), data.skies[day].sky, this.ink);
    find("news").textContent = this.news();
    const scrub = find("scrub");
    scrub.value = day;
    scrub.setAttribute("aria-valuetext", data.dates[day]);
    const number = (this.number ||= new Intl.NumberFormat(data.locale));
    for (const one of this.maps.flatMap((map) => map.figures)) {
      one.value.textContent = number.format(one.values[day]);
      one.said.data = this.nameOf(one);
    }
  }

  nameOf(figure) {
    return figure.values[this.day] === 1 ? figure.one : figure.name;
  }

  news() {
    const lines = [];
    for (const film of this.films) {
      const recent = film.events.filter((event) => event.day <= this.day && event.day > this.day - NEWS_DAYS);
      if (!recent.length) continue;
      const latest = recent[recent.length - 1].day, said = recent.filter((event) => event.day === latest).map((event) => event.words);
      lines.push(`${this.films.length > 1 ? `${film.title}, ` : ""}${this.data.dates[latest]}: ${said.join(" ")}`);
    }
    return lines.join(" ");
  }

  paint(clock) {
    for (const map of this.maps) map.draw(this.day, clock, this.calm.matches || !this.isPlaying);
    if (this.lineDay === this.day) return;
    this.line.draw(this.day);
    this.lineDay = this.day;
  }

  speak() {
    const { data } = this, stop = this.stop && this.stop.day === this.day ? this.stop : null;
    const figures = this.maps.map((map) =>
      `${map.film.title}: ${map.figures.map((one) => `${one.values[this.day]} ${this.nameOf(one)}`).join(", ")}.`).join(" ");
    const said = data.words.said.replace("{date}", data.dates[this.day]).replace("{sky}", data.skies[this.day].words).replace("{figures}", figures);
    this.find("live").textContent = stop ? `${stop.head}. ${stop.question} ${stop.says.join(" ")} ${said}` : said;
  }

  nameButtons() {
    const words = this.data.words, resumes = !this.find("pause").hidden;
    this.find("play").textContent = this.isPlaying ? words.pause : resumes ? words.goOn : words.play;
  }
}
