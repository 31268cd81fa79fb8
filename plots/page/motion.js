// motion.js - the run with the hidden fault, as the crew sees it: how it moves, not why.
import { byId, say } from './dom.js';
import { axisMarks, drawDial } from './dial.js';
import { Frames } from './frames.js';
import { angleAt } from './stage.js';
import { fixed } from './units.js';

const VIEWS = [
  { axis: 1, view: 'side', id: 'ex-side' },
  { axis: 0, view: 'above', id: 'ex-above' },
];

export class Motion {
  constructor(truck) {
    this.truck = truck;
    this.turns = [];
    this.frames = new Frames();
    byId('ex-play').addEventListener('click', () => (this.playing ? this.stop() : this.play()));
    byId('ex-scrub').addEventListener('input', (event) => {
      this.stop();
      this.go(Number(event.target.value));
    });
    byId('exercise').addEventListener('close', () => this.stop());
  }

  load(run) {
    this.run = run;
    this.stop();
    byId('ex-scrub').max = run.end;
    this.draw();
    this.go(0);
  }

  // stops, homes and points as they should be: where the fault has moved one is not told
  draw() {
    const line = parseFloat(getComputedStyle(document.documentElement).fontSize);
    this.turns = VIEWS.map(({ axis, view, id }) => ({
      axis,
      turn: drawDial(byId(id), axisMarks(this.truck, new Map(), axis), view, line, 'none').turn,
    }));
    this.go(this.time ?? 0);
  }

  go(time) {
    this.time = time;
    byId('ex-scrub').value = time;
    byId('ex-scrub').setAttribute('aria-valuetext', `${fixed(time, 1)} seconds`);
    say('ex-time', `${fixed(time, 1)} s of ${fixed(this.run.end, 1)} s`);
    for (const { axis, turn } of this.turns) turn(angleAt(this.run, axis, time));
  }

  // without motion where less of it is wished for: the end at once
  play() {
    if (matchMedia('(prefers-reduced-motion: reduce)').matches) return this.go(this.run.end);
    if (this.time >= this.run.end) this.time = 0;
    this.name(true);
    return this.frames.start((seconds) => {
      this.go(Math.min(this.time + seconds, this.run.end));
      if (this.time >= this.run.end) this.stop();
    });
  }

  stop() {
    this.frames.stop();
    this.name(false);
  }

  name(playing) {
    this.playing = playing;
    say('ex-play', playing ? 'Pause' : 'Watch the run');
  }
}
