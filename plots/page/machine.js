// machine.js - the simulation: slewtime's own C code, compiled to WebAssembly.

// what a WASI program may ask for; texts are made in memory, so nothing is ever written
const NOTHING = {
  environ_get: () => 0,
  environ_sizes_get: () => 0,
  fd_close: () => 0,
  fd_seek: () => 8,
  fd_write: () => 8,
  proc_exit: (code) => {
    throw new Error(`the simulation ended with ${code}`);
  },
};

function decode(base64) {
  return Uint8Array.from(atob(base64.trim()), (letter) => letter.charCodeAt(0));
}

export async function loadMachine(base64) {
  const imports = { wasi_snapshot_preview1: NOTHING };
  const { instance } = await WebAssembly.instantiate(decode(base64), imports);
  instance.exports._initialize();
  return new Machine(instance.exports);
}

const EVENT_FIGURES = 12;
export const SAMPLE_FIGURES = 12;

class Machine {
  constructor(c) {
    this.c = c;
    this.known = new Map();
  }

  // a word of the library by its number; asked for once
  word(list, number) {
    const name = `${list}${number}`;
    let word = this.known.get(name);
    if (word === undefined) {
      word = this.text(this.c[`${list}_word`](number));
      this.known.set(name, word);
    }
    return word;
  }

  text(address) {
    const bytes = new Uint8Array(this.c.memory.buffer, address);
    return new TextDecoder().decode(bytes.subarray(0, bytes.indexOf(0)));
  }

  numbers(address, count) {
    return new Float64Array(this.c.memory.buffer, address, count);
  }

  // what every trial begins with
  begin(scenario) {
    const c = this.c;
    c.begin();
    scenario.layers.forEach((layer, number) => layer.forEach((value, key) => c.base_set(number, key, value)));
    scenario.choices.forEach((list, axis) => list.forEach((s) => c.base_choice(axis, s)));
    for (const zone of scenario.keepout)
      c.base_keepout(
        zone.left ?? -Infinity,
        zone.right ?? Infinity,
        zone.lower ?? -Infinity,
        zone.upper ?? Infinity,
      );
  }

  startTrial() {
    this.c.trial_begin();
  }

  // true: the key takes this value
  set(layer, key, value) {
    return this.c.trial_set(layer, key, value) === 0;
  }

  // what is wrong with the trial, as slewtime says it; '': nothing
  check() {
    return this.c.check() === 0 ? '' : this.text(this.c.error_text());
  }

  // the trial with events and samples
  run(interval) {
    const c = this.c;
    if (c.run(interval) !== 0) return { error: this.text(c.error_text()) };
    const run = this.result();
    run.events = this.events();
    run.sampleCount = c.sample_count();
    run.samples = this.numbers(c.samples_at(), run.sampleCount * SAMPLE_FIGURES).slice();
    return run;
  }

  // the trial's result alone
  ask() {
    return this.c.run(0) === 0 ? this.result() : null;
  }

  part(f, at) {
    return {
      says: this.word('verdict', f[at]),
      fault: this.word('fault', f[at + 1]),
      axis: f[at + 2],
      holds: f[at + 3] === 1,
      angle: [f[at + 4], f[at + 5]],
      hasTarget: f[at + 6] === 1,
      onTarget: f[at + 7] === 1,
      duration: f[at + 8],
    };
  }

  result() {
    const f = this.numbers(this.c.result_at(), 32);
    return {
      stored: [f[0], f[1]],
      stow: this.part(f, 2),
      deploy: this.part(f, 11),
      end: f[20],
      lowest: f[21],
      lowestLoaded: f[22],
      belowMinimum: f[23] === 1,
      peakCurrent: f[24],
      charge: f[25],
      visits: f[26],
      outcome: this.word('outcome', f[27]),
      outcomeAxis: f[28],
      off: f[29],
      strikes: f[30],
      jammedAxis: f[31],
    };
  }

  events() {
    const count = this.c.event_count();
    const f = this.numbers(this.c.events_at(), count * EVENT_FIGURES);
    return Array.from({ length: count }, (_, i) => {
      const at = i * EVENT_FIGURES;
      return {
        time: f[at],
        kind: this.word('event', f[at + 1]),
        axis: f[at + 2],
        direction: f[at + 3],
        angle: [f[at + 4], f[at + 5]],
        voltage: f[at + 6],
        current: f[at + 7],
        energy: f[at + 8],
        fault: this.word('fault', f[at + 9]),
        zone: f[at + 10],
      };
    });
  }
}
