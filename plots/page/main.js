// main.js - the state of the page, and what is drawn of it when.
import { byId, el, say, show } from './dom.js';
import {
  CONTROLS,
  controlOf,
  drawControl,
  fitsTruck,
  putControl,
  putLessonValue,
  putShare,
} from './controls.js';
import { countDays, drawDays, setDay } from './days.js';
import { axisMarks } from './dial.js';
import { Exercise } from './exercise.js';
import { drawGraph } from './graph.js';
import { readExercise, readLink, writeLink } from './link.js';
import { loadMachine } from './machine.js';
import { axisOf } from './outcome.js';
import { OwnTruck } from './owntruck.js';
import { Player } from './player.js';
import { Predict } from './predict.js';
import { drawSheet } from './sheet.js';
import { Stage, tellingTime } from './stage.js';
import { applySettings, commandLine, splitSetting, Truck } from './truck.js';

// why a lesson does not fit a truck
const LACKING = { hasPoint: 'no stow point', deploys: 'no deploy' };
const INTERVAL = 0.02; // between samples [s]

const parse = (id) => JSON.parse(byId(id).textContent);

const state = {
  lesson: 'free',
  system: 'US',
  predict: false,
  compare: false,
  hide: false,
  side: 'A',
  sides: { A: new Map(), B: new Map() },
  own: new Map(),
};

const lessons = parse('lessons-data');
const truck = new Truck(parse('truck-data'));
const machine = await loadMachine(byId('module-data').textContent);
machine.begin(truck);

const still = matchMedia('(prefers-reduced-motion: reduce)');
const stages = { A: new Stage('A'), B: new Stage('B') };
const predict = new Predict();
const exercise = new Exercise(truck, state, parse('checks-data'), runOf, keepLink);
const player = new Player((time) => {
  for (const side of sidesShown()) stages[side].setTime(time);
  graph?.cursor(time);
});
const own = new OwnTruck(machine, truck, state, () => settingChanged());
let graph = null;
let rows = [];

// ---- simulating ----

const sidesShown = () => (state.compare ? ['A', 'B'] : ['A']);
const lessonNow = () => lessons.find((lesson) => lesson.id === state.lesson) ?? lessons[0];

// the truck's own figures, and on top what is set on this side
function settingsOf(side) {
  return new Map([...[...state.own].map(([path, value]) => [`file.${path}`, value]), ...state.sides[side]]);
}

function simulate(settings) {
  machine.startTrial();
  if (!applySettings(machine, truck, settings)) return { error: 'a value is out of range' };
  return machine.run(INTERVAL);
}

// what a drawn day sets, beside the scenario alone
function runOf(day) {
  machine.startTrial();
  setDay(machine, day);
  return machine.run(INTERVAL);
}

function lessonSettings(lesson) {
  const settings = new Map([...state.own].map(([path, value]) => [`file.${path}`, value]));
  for (const [id, value] of Object.entries(lesson.set)) putLessonValue(truck, settings, id, value);
  return settings;
}

// ---- drawing ----

const lineHeight = () => parseFloat(getComputedStyle(document.documentElement).fontSize);

// elevation alone, unless the lesson or the run is about rotation
function axesShown(runs) {
  const { rotation } = lessonNow();
  const about = runs.some((run) => !run.error && run.outcome !== 'ok' && axisOf(run) === 0);
  return rotation || about ? [1, 0] : [1];
}

function redraw() {
  const started = performance.now();
  const sides = sidesShown();
  const settings = sides.map(settingsOf);
  const runs = settings.map(simulate);
  const hidden = predict.panel(state.predict);
  const options = {
    axes: axesShown(runs),
    hidden,
    compare: state.compare,
    stills: still.matches && !state.compare,
    line: lineHeight(),
  };
  sides.forEach((side, i) => stages[side].show(truck, settings[i], runs[i], options));
  drawTime(runs, settings[0], options);
  drawHundred(settings[sides.indexOf(state.side)] ?? settings[0], hidden);
  rows.forEach((row) => row.update());
  show(byId('tell-panel'), !hidden);
  document.body.dataset.script = String(performance.now() - started);
  speakLater();
  keepLink();
}

function drawTime(runs, settings, { axes, hidden, line }) {
  const good = runs.filter((run) => !run.error);
  show(byId('time'), !hidden && good.length > 0);
  graph = null;
  if (good.length === 0) return;
  const axis = axisOf(good[0]) === 0 && axes.includes(0) ? 0 : 1;
  const minimum =
    truck.value(settings, 'today', 'supply.floor') ??
    11.5 * (truck.base('file', 'supply.system') > 18 ? 2 : 1);
  graph = drawGraph(byId('graph'), good, axisMarks(truck, settings, axis), minimum, line);
  player.load(
    { events: good[0].events, end: Math.max(...good.map((run) => run.end)), telling: tellingTime(good[0]) },
    hidden,
  );
}

function drawHundred(settings, hidden) {
  show(byId('days-panel'), !hidden);
  if (hidden) return;
  say('days-title', `Of 100 simulated days${state.compare ? `, ${state.side}` : ''}`);
  drawDays(byId('days'), byId('days-note'), countDays(machine, truck, settings), truck.varies);
}

let speaking = 0;
function speakLater() {
  clearTimeout(speaking);
  speaking = setTimeout(() => {
    say(
      'live',
      sidesShown()
        .map((side) => (state.compare ? `${side}: ` : '') + stages[side].told.sentence)
        .join('. '),
    );
  }, 500);
}

// what does not change while a control is moved
function lay() {
  const lesson = lessonNow();
  say('title', truck.title);
  document.title = `${lesson.title} - ${truck.title}`;
  say('ask', lesson.ask);
  say('tell', lesson.tell);
  byId('lesson').value = lesson.id;
  for (const name of ['predict', 'compare', 'hide'])
    byId(name).setAttribute('aria-pressed', String(state[name]));
  say('units', `Units: ${state.system}`);
  document.body.classList.toggle('hide-numbers', state.hide);
  document.body.classList.toggle('comparing', state.compare);
  const shown = sidesShown().map((side) => stages[side]);
  byId('findings').replaceChildren(...shown.map((stage) => stage.finding));
  byId('stages').replaceChildren(
    ...shown.map((stage) => el('div', { class: 'stage' }, stage.views, stage.reports)),
  );
  layControls(lesson);
  redraw();
  player.go(player.telling);
}

function layControls(lesson) {
  show(byId('sides'), state.compare);
  show(byId('curves'), state.compare);
  for (const side of ['A', 'B'])
    byId(`side-${side}`).setAttribute('aria-pressed', String(side === state.side));
  const wanted = lesson.controls.map(controlOf).filter((control) => fitsTruck(truck, control));
  rows = wanted.map((control) => drawControl(truck, control, withOwn(), moved));
  byId('controls').replaceChildren(...rows.map((row) => row.node));
}

// what controls read: the truck's own figures below the settings
function withOwn() {
  return {
    get settings() {
      return settingsOf(state.side);
    },
    get system() {
      return state.system;
    },
  };
}

// ---- changing ----

// settings without those that are just the truck's own figures
function beyondOwn(settings) {
  const isOwn = ([name, value]) =>
    state.own.get(name.replace(/^file\./, '')) === value && name.startsWith('file.');
  return new Map([...settings].filter((setting) => !isOwn(setting)));
}

let waiting = false;
function moved(control, value) {
  const settings = settingsOf(state.side);
  putControl(truck, settings, control, value);
  state.sides[state.side] = beyondOwn(settings);
  if (waiting) return;
  waiting = true;
  requestAnimationFrame(() => {
    waiting = false;
    redraw();
  });
}

function settingChanged() {
  say('title', truck.title);
  layControls(lessonNow());
  redraw();
}

function takeLesson(id) {
  state.lesson = id;
  const preset = () => beyondOwn(lessonSettings(lessonNow()));
  state.sides = { A: preset(), B: state.compare ? state.sides.B : preset() };
  predict.reset();
  lay();
}

function keepLink() {
  const kept = exercise.kept();
  history.replaceState(null, '', writeLink(state, kept && { ...kept, open: byId('exercise').open }));
  say(
    'origin',
    `Scenario ${truck.data.scenario}, slewtime ${truck.data.slewtime}${changes()}. ${truck.data.file_name}`,
  );
}

function changes() {
  const count = settingsOf(state.side).size;
  return count > 0 ? `, ${count} ${count === 1 ? 'key' : 'keys'} changed here` : '';
}

function toggle(name) {
  state[name] = !state[name];
  if (name === 'predict') predict.reset();
  if (name === 'compare') {
    state.side = state.compare ? 'B' : 'A';
    if (state.compare) state.sides.B = new Map(state.sides.A);
  }
  lay();
}

// ---- dialogs ----

function openDialog(id, prepare) {
  prepare();
  byId(id).showModal();
  keepLink();
}

function openExercise() {
  openDialog('exercise', () => exercise.hidden ?? exercise.begin());
  exercise.motion.draw(); // now there is room for it
}

function fillShare() {
  byId('link').value = location.href;
  byId('commands').replaceChildren(
    ...sidesShown().map((side) => el('code', {}, commandLine(truck, settingsOf(side)))),
  );
  say('copied', '');
}

async function copy(text) {
  try {
    await navigator.clipboard.writeText(text);
    say('copied', 'Copied.');
  } catch {
    say('copied', 'Select it and copy by hand.');
  }
}

function printSheet() {
  drawSheet(
    truck,
    state,
    lessons.filter(({ needs }) => !needs || truck[needs]),
    exercise,
    (lesson) => {
      const settings = lessonSettings(lesson);
      return { settings, result: simulate(settings) };
    },
  );
  document.body.classList.add('print-sheet');
  window.print();
  document.body.classList.remove('print-sheet');
}

// ---- beginning ----

const knows = (name) => truck.number.has(splitSetting(name)[1]) || truck.number.has(name);

function connect() {
  const on = (id, act) => byId(id).addEventListener('click', act);
  byId('lesson').append(
    ...lessons.map(({ id, title, needs }) => {
      const lacks = needs && !truck[needs];
      return el('option', { value: id, disabled: lacks }, lacks ? `${title} (${LACKING[needs]})` : title);
    }),
  );
  byId('lesson').addEventListener('change', (event) => takeLesson(event.target.value));
  for (const name of ['predict', 'compare', 'hide']) on(name, () => toggle(name));
  on('reveal', () => {
    predict.shown = true;
    lay();
    player.time = 0;
    if (!still.matches) player.play();
  });
  on('units', () => {
    state.system = state.system === 'US' ? 'SI' : 'US';
    lay();
  });
  on('reset', () => takeLesson(state.lesson));
  for (const side of ['A', 'B'])
    on(`side-${side}`, () => {
      state.side = side;
      lay();
    });
  on('open-exercise', openExercise);
  on('open-own', () => openDialog('own', () => own.draw()));
  on('open-share', () => openDialog('share', fillShare));
  on('print', () => window.print());
  on('print-sheet', printSheet);
  on('copy-link', () => copy(byId('link').value));
  on('copy-command', () => copy(byId('commands').textContent));
  for (const button of document.querySelectorAll('dialog .close'))
    button.addEventListener('click', () => button.closest('dialog').close());
  byId('exercise').addEventListener('close', keepLink);
  still.addEventListener('change', lay);
  addEventListener('resize', () => redraw());
}

connect();
const linked = readLink(location.hash, knows);
const begun = readExercise(location.hash);
if (linked) {
  for (const [name, value] of Object.entries(linked)) state[name] = value;
  lay();
} else takeLesson('free');
if (begun) {
  exercise.restore(begun);
  if (begun.open) openExercise();
  keepLink();
}

// for the tests of the page
globalThis.slewtime = {
  CONTROLS,
  commandLine,
  days: (settings) => countDays(machine, truck, settings),
  exercise,
  runOf,
  put: (settings, control, share) => putShare(truck, settings, control, share),
  simulate,
  state,
  truck,
};
