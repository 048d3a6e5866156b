// The clock: it plays by itself and stops at questions.

const FRAME_MS = 14, LONGEST_STEP_MS = 100, CALM_MS = 1000;

Object.assign(Player.prototype, {
  play() {
    this.hideQuestion();
    if (this.day >= this.data.days - 1) this.goTo(0);
    this.isPlaying = true;
    this.last = performance.now();
    if (this.calm.matches) this.steps = setInterval(() => this.stepCalmly(), CALM_MS);
    this.nameButtons();
    this.root.classList.add("playing");
  },

  pause() {
    this.isPlaying = false;
    clearInterval(this.steps);
    this.nameButtons();
    this.fillChoices();
    this.speak();
    this.root.classList.remove("playing");
  },

  hideQuestion() {
    this.find("pause").hidden = true;
    this.root.classList.remove("asking");
  },

  stepCalmly() {
    this.advance(Number(this.find("speed").value));
  },

  tick(now) {
    this.nextFrame = requestAnimationFrame(this.frame);
    if (!this.isPlaying || this.calm.matches || now - this.last < FRAME_MS) return;
    const passed = Math.min(now - this.last, LONGEST_STEP_MS) / 1000;
    this.last = now;
    this.advance(passed * Number(this.find("speed").value));
    this.paint(now / 1000);
    this.frames += 1;
  },

  // Go on by part of a day; stop at a question on the way, or at the end.
  advance(days) {
    const end = this.data.days - 1, before = this.day;
    let to = Math.min(end, this.position + days);
    const stop = this.find("stop").checked ? this.nextStop(before, Math.floor(to)) : null;
    if (stop) to = stop.day;
    this.position = to;
    if (Math.floor(to) !== this.day) {
      this.day = Math.floor(to);
      this.show();
      if (this.calm.matches) this.paint(0);
    }
    if (stop) this.ask(stop);
    else if (to >= end) this.pause();
  },

  nextStop(from, to) {
    return this.data.stops.find((stop, n) => stop.day >= from && stop.day <= to && !this.asked.has(n)) || null;
  },

  ask(stop) {
    this.asked.add(this.data.stops.indexOf(stop));
    const { find, data } = this;
    find("pause-head").textContent = `${data.dates[stop.day]}: ${stop.head}`;
    find("pause-question").textContent = stop.question;
    find("pause-says").textContent = stop.says.join(" ");
    find("pause-prompt").textContent = stop.prompt;
    find("pause").hidden = false;
    this.root.classList.add("asking");
    this.stop = stop;
    this.pause();
    if (this.isOpen) this.goToHead();
  },

  // From its head on, question and map have room in one window; in a room nothing stands above it.
  goToHead() {
    if (!this.data.room) this.root.scrollIntoView({ block: "start" });
  },

  goTo(day, isStep = false) {
    this.hideQuestion();
    this.stop = null;
    this.day = Math.max(0, Math.min(this.data.days - 1, day));
    this.position = this.day;
    this.data.stops.forEach((stop, n) => { if (stop.day > this.day) this.asked.delete(n); else if (stop.day < this.day) this.asked.add(n); });
    this.show();
    const stop = isStep && this.find("stop").checked ? this.nextStop(this.day, this.day) : null;
    if (stop) this.ask(stop);
    else this.pause();
    this.paint(0);
  },
});
