// player.js - simulated time: play, scrub, and step from event to event.
import { byId, say } from './dom.js';
import { Frames } from './frames.js';
import { fixed } from './units.js';
import { capital, eventWords } from './words.js';

export class Player {
  constructor(moved) {
    this.moved = moved;
    this.frames = new Frames();
    this.time = 0;
    this.end = 0;
    this.telling = 0; // where the finding can be seen
    this.events = [];
    this.speed = 1;
    byId('play').addEventListener('click', () => (this.playing ? this.stop() : this.play()));
    byId('scrub').addEventListener('input', (event) => this.scrub(Number(event.target.value)));
    byId('event-before').addEventListener('click', () => this.step(-1));
    byId('event-after').addEventListener('click', () => this.step(1));
    byId('speed').addEventListener('change', (event) => (this.speed = Number(event.target.value)));
  }

  // another run: the same place in it, or where its finding can be seen
  load(run, hidden) {
    const wasTelling = this.time === this.telling;
    this.telling = hidden ? 0 : run.telling;
    this.events = hidden ? [] : run.events;
    this.end = hidden ? 0 : run.end;
    byId('scrub').max = this.end;
    for (const id of ['play', 'scrub', 'event-before', 'event-after']) byId(id).disabled = hidden;
    if (hidden) this.stop();
    this.go(wasTelling ? this.telling : Math.min(this.time, this.end));
  }

  go(time) {
    this.time = time;
    byId('scrub').value = time;
    byId('scrub').setAttribute('aria-valuetext', `${fixed(time, 1)} seconds`);
    say('clock', `${fixed(time, 2)} s`);
    say('event', this.nearest());
    this.moved(time);
  }

  scrub(time) {
    this.stop();
    this.go(time);
  }

  // the event that was last at this time
  nearest() {
    const last = this.events.findLast((event) => event.time <= this.time + 1e-9);
    return last ? capital(eventWords(last)) : '';
  }

  step(by) {
    this.stop();
    const now = this.time;
    const next =
      by > 0
        ? this.events.find((event) => event.time > now + 1e-9)
        : this.events.findLast((event) => event.time < now - 1e-9);
    if (next) this.go(next.time);
    say('live', byId('event').textContent);
  }

  play() {
    if (this.time >= this.end) this.time = 0;
    this.playing = true;
    this.name();
    this.frames.start((seconds) => {
      this.go(Math.min(this.time + seconds * this.speed, this.end));
      if (this.time >= this.end) this.stop();
    });
  }

  stop() {
    this.frames.stop();
    this.playing = false;
    this.name();
  }

  name() {
    say('play', this.playing ? 'Pause' : 'Play');
  }
}
