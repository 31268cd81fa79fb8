// exercise.js - a hidden fault: the class picks checks, each costs minutes, until the cause is named.
import { byId, el, say, show } from './dom.js';
import { Motion } from './motion.js';
import { capital, plural } from './words.js';
import { fixed, fromSI, unitFor, withUnit } from './units.js';

const WRONG_MINUTES = 10;
const LEVELS = {
  1: { causes: 6, words: 'Six causes to choose from' },
  2: { causes: 99, words: 'Every cause of the catalogue' },
  3: { causes: 99, minutes: 60, words: 'Every cause, and sixty minutes' },
};
const UNITS = {
  voltage: 'V',
  current: 'A',
  time: 's',
  angle: 'deg',
  resistance: 'mohm',
  'speed of rotation': 'deg/s',
};

// ---- readings ----

export function readingText(observable, value, system) {
  if (value === null || value === undefined) return 'no reading';
  if (!observable.quantity) return observable.words.split('|')[value].trim().replaceAll('_', ' ');
  const unit = unitFor(UNITS[observable.quantity], system);
  const told = unit === 'A' ? Math.max(value, 0) : value; // an ammeter's noise about zero
  return withUnit(fixed(fromSI(unit, told), unit === 'mohm' ? 0 : 1), unit);
}

// "Stall current: 13 A", "Does it turn? yes"
export const labelled = (text, reading) => `${text}${text.endsWith('?') ? '' : ':'} ${reading}`;

// the middle of what a cause reads, or its most common word
export function usualReading(observable, [readable, , mid, , word], system) {
  if (readable < 0.5) return 'no reading';
  return readingText(observable, observable.quantity ? mid : word, system);
}

// from where to where it reads, on all days; or its most common word
export function bandReading(observable, signature, system) {
  const [readable, low, , high] = signature;
  const usual = usualReading(observable, signature, system);
  if (!observable.quantity || readable < 0.5) return usual;
  const [from, to] = [low, high].map((value) => readingText(observable, value, system));
  return from === to ? usual : `${from} to ${to}`;
}

// true: such a reading is hardly one of this cause
export function speaksAgainst(observable, value, [readable, low, , high, word, share]) {
  if (value === null) return readable > 0.95;
  if (readable < 0.05) return true;
  if (!observable.quantity) return word !== value && share > 0.9;
  return value < low - 3 * observable.sd || value > high + 3 * observable.sd;
}

// ---- the exercise ----

export class Exercise {
  // `runOf(day)` simulates what a day sets; `changed` is told of everything that the link keeps
  constructor(truck, state, minutes, runOf, changed) {
    Object.assign(this, { state, minutes, runOf, changed });
    this.motion = new Motion(truck);
    const data = truck.data.exercise;
    this.observables = data.observables;
    this.causes = data.causes;
    this.healthy = data.causes.find((cause) => cause.healthy) ?? data.causes[0];
    byId('ex-new').addEventListener('click', () => this.begin());
    byId('ex-level').addEventListener('change', () => this.begin());
    byId('ex-name').addEventListener('click', () => this.name());
    byId('ex-give-up').addEventListener('click', () => this.reveal('Given up.'));
    byId('ex-number').addEventListener('keydown', (event) => this.typed(event));
    this.checks = this.observables
      .map((observable, index) => ({ observable, index, ...minutes[observable.path] }))
      .filter((check) => check.minutes !== undefined && this.isRead(check.index));
  }

  // on this truck the check reads something under some cause
  isRead(index) {
    return this.causes.some((cause) => cause.cases.some((one) => one[index] !== null));
  }

  begin(seed = Math.floor(Math.random() * 1e6)) {
    const faults = this.causes.filter((cause) => !cause.healthy);
    this.level = LEVELS[byId('ex-level').value];
    this.seed = seed;
    this.hidden = faults[seed % faults.length];
    const nth = seed % this.hidden.cases.length;
    this.seen = this.hidden.cases[nth];
    this.motion.load(this.runOf(this.hidden.motions[nth]));
    this.asked = [];
    this.spent = 0;
    this.wrong = [];
    this.offered = this.pick(faults, seed);
    this.draw();
    show(byId('ex-answer'), false);
    say('ex-message', `${this.level.words}.`);
    this.changed();
  }

  // what the link keeps: which fault, by a number that does not tell it, and how far the class got
  kept() {
    if (!this.hidden) return null;
    return {
      level: byId('ex-level').value,
      seed: this.seed,
      checks: this.asked.map((check) => this.checks.indexOf(check) + 1),
      guesses: this.wrong.map((cause) => this.offered.indexOf(cause) + 1),
    };
  }

  restore({ level, seed, checks, guesses }) {
    if (!(level in LEVELS)) return;
    byId('ex-level').value = level;
    this.begin(seed);
    for (const number of checks) if (this.isOpen(this.checks[number - 1])) this.ask(this.checks[number - 1]);
    for (const number of guesses) if (this.offered[number - 1]) this.guess(this.offered[number - 1]);
  }

  // a check that is there and was not made yet
  isOpen(check) {
    return check !== undefined && !this.asked.includes(check);
  }

  // the hidden one among others, always in the order of the catalogue
  pick(faults, seed) {
    if (this.level.causes >= faults.length) return faults;
    const step = Math.max(1, Math.floor(faults.length / this.level.causes));
    const at = faults.indexOf(this.hidden);
    const wanted = new Set([at]);
    for (let i = 1; wanted.size < this.level.causes; i++)
      wanted.add((at + i * step + (seed % 2) * (i % 2)) % faults.length);
    return faults.filter((cause, i) => wanted.has(i));
  }

  draw() {
    this.drawSymptoms();
    this.drawMenu();
    this.drawReadings();
    byId('ex-cause').replaceChildren(
      ...this.offered.map((cause, i) => el('option', { value: i }, `${i + 1}. ${capital(cause.name)}`)),
    );
    this.clock();
  }

  clock() {
    const limit = this.level.minutes ? ` of ${this.level.minutes}` : '';
    say('ex-clock', `${this.spent}${limit} minutes`);
  }

  drawSymptoms() {
    const rows = this.observables
      .map((observable, i) => [observable, this.seen[i]])
      .filter(([observable, value]) => observable.by === 'eye' && value !== null)
      .map(([observable, value]) =>
        el(
          'li',
          {},
          `${this.label(observable)}: `,
          el('strong', {}, readingText(observable, value, this.state.system)),
        ),
      );
    byId('ex-symptoms').replaceChildren(...rows);
  }

  label(observable) {
    return this.minutes[observable.path]?.text ?? observable.path;
  }

  drawMenu() {
    byId('ex-checks').replaceChildren(
      ...this.checks.map((check, i) =>
        el(
          'li',
          {},
          el(
            'button',
            { type: 'button', disabled: this.asked.includes(check), onclick: () => this.ask(check) },
            el('span', {}, `${i + 1}. ${check.text}`),
            el('span', { class: 'minutes' }, `${check.minutes} min`),
          ),
        ),
      ),
    );
  }

  // a number typed picks the check
  typed(event) {
    if (event.key !== 'Enter') return;
    const check = this.checks[Number(event.target.value) - 1];
    event.target.value = '';
    if (this.isOpen(check)) this.ask(check);
  }

  ask(check) {
    this.asked.push(check);
    this.spent += check.minutes;
    this.drawMenu();
    this.drawReadings();
    this.clock();
    const told = readingText(check.observable, this.seen[check.index], this.state.system);
    say('ex-message', labelled(check.text, told));
    byId('ex-number').focus();
    if (this.level.minutes && this.spent >= this.level.minutes) this.reveal('Time is up.');
    this.changed();
  }

  drawReadings() {
    const { system } = this.state;
    byId('ex-readings').replaceChildren(
      ...this.asked.map(({ observable, index, text }) =>
        el(
          'tr',
          {},
          el('th', { scope: 'row' }, text),
          el('td', {}, readingText(observable, this.seen[index], system)),
          el('td', {}, bandReading(observable, this.healthy.reads[index], system)),
        ),
      ),
    );
  }

  name() {
    this.guess(this.offered[Number(byId('ex-cause').value)]);
  }

  guess(cause) {
    if (cause === this.hidden || this.hidden.looks_like.includes(cause.name)) {
      this.reveal('Right.');
      return;
    }
    this.spent += WRONG_MINUTES;
    this.wrong.push(cause);
    this.clock();
    say('ex-message', `No, ${WRONG_MINUTES} minutes lost. ${this.whyNot(cause)}`);
    this.changed();
  }

  whyNot(cause) {
    const { system } = this.state;
    const known = this.known().find(({ observable, index }) =>
      speaksAgainst(observable, this.seen[index], cause.reads[index]),
    );
    if (!known) return 'Nothing that was looked at so far speaks against it, but a check would.';
    const { observable, index } = known;
    const mostly = usualReading(observable, cause.reads[index], system);
    return `Main evidence against it: ${this.label(observable).toLowerCase()} would mostly read ${mostly}; here it reads ${readingText(observable, this.seen[index], system)}.`;
  }

  // what was seen, and what was asked
  known() {
    const eye = this.observables
      .map((observable, index) => ({ observable, index }))
      .filter((o) => o.observable.by === 'eye');
    return [...this.asked, ...eye];
  }

  // how many of the causes offered a check has ruled out
  rulesOut(check) {
    return this.offered.filter(
      (cause) =>
        cause !== this.hidden &&
        speaksAgainst(check.observable, this.seen[check.index], cause.reads[check.index]),
    ).length;
  }

  reveal(word) {
    const separated = this.asked.map((check) =>
      el('li', {}, `${check.text}: rules out ${plural(this.rulesOut(check), 'cause')}`),
    );
    const alike =
      this.hidden.looks_like.length > 0 ? ` It looks the same as: ${this.hidden.looks_like.join(', ')}.` : '';
    byId('ex-answer').replaceChildren(
      el('h3', {}, `${word} It is: ${this.hidden.name}`),
      el('p', {}, this.hidden.means + alike),
      el(
        'p',
        {},
        `It took ${plural(this.spent, 'minute')}, ${plural(this.asked.length, 'check')} and ${plural(this.wrong.length, 'wrong guess', 'wrong guesses')}.`,
      ),
      el('h4', {}, 'What separated the causes'),
      separated.length > 0 ? el('ul', {}, ...separated) : el('p', {}, 'No check was made.'),
      el('h4', {}, 'How to prove it'),
      el('p', {}, this.hidden.prove),
      el('h4', {}, 'The cure'),
      el('p', {}, this.hidden.cure),
    );
    show(byId('ex-answer'), true);
    say('ex-message', `${word} It is: ${this.hidden.name}.`);
  }
}
