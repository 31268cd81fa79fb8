// controls.js - what the class may change, as plain rows; each sets keys of the scenario.
import { el } from './dom.js';
import { fixed, fromSI, gaugeName, shown, toSI, unitFor, withUnit, words } from './units.js';
import { nearStop } from './lens.js';

const OF_LAYER = { file: 'today', teach: 'taught', today: 'today', deploy_day: 'deploy' };

// ---- kinds ----

// a number of one key on one occasion; from, to and step in the file's unit
function number(id, text, layer, path, from, to, step, more = {}) {
  return { id, text, kind: 'number', layer, path, from, to, step, ...more };
}

const volts = (id, text, layer) =>
  number(id, text, layer, 'supply.main.voltage', 9, 15, 0.1, { perSystem: true });
const warmth = (id, text, layer) => number(id, text, layer, 'environment.temperature', -30, 50, 1);

// of both motors alike, above the surroundings
const RISES = ['rotation', 'elevation'].map((axis) => `${axis}.motor.winding_rise`);
const motors = (id, text, layer) => ({ id, text, kind: 'motors', layer, from: 0, to: 90, step: 1 });

// how a sensor is put out of order: keys of its axis today, as a share of their own value or as is
const SENSOR = {
  good: {},
  dead: { present: 0 },
  stuck: { stuck: 1 },
  weak: { operate: 'times 0.15', release: 'times 0.2' },
};

function sensor(axis) {
  return {
    id: `sensor-${axis}`,
    text: `Home sensor, ${axis}`,
    kind: 'sensor',
    axis,
    options: Object.keys(SENSOR),
  };
}

const choice = (id, text, layer, path, wordsShown) => ({ id, text, kind: 'choice', layer, path, wordsShown });

const APPROACH = { either: 'whichever side', rising: 'from below or left', falling: 'from above or right' };

export const CONTROLS = [
  volts('volts-taught', 'Battery while taught', 'teach'),
  volts('volts-today', 'Battery today', 'today'),
  volts('volts-deploy', 'Battery on deploy day', 'deploy_day'),
  warmth('warmth-taught', 'Temperature while taught', 'teach'),
  warmth('warmth-today', 'Temperature today', 'today'),
  warmth('warmth-deploy', 'Temperature on deploy day', 'deploy_day'),
  motors('motors-today', 'Motors warm from use, today', 'today'),
  motors('motors-deploy', 'Motors warm from use, deploy day', 'deploy_day'),
  { id: 'clearance', text: 'Clearance of the stow point', kind: 'clearance', from: 0.1, to: 8, step: 0.1 },
  number('seconds', 'Deploy seconds, elevation', 'file', 'deploy.seconds.elevation', 0, 20, 0.1),
  { id: 'size', text: 'Feed cable size', kind: 'size' },
  number('length', 'Feed cable length, one way', 'file', 'supply.feed.length', 0, 60, 1),
  { id: 'bad', text: 'One bad connection', kind: 'bad', from: 0, to: 300, step: 5 },
  sensor('elevation'),
  sensor('rotation'),
  choice('approach-elevation', 'Elevation homes', 'file', 'elevation.approach', APPROACH),
  choice('approach-rotation', 'Rotation homes', 'file', 'rotation.approach', APPROACH),
  choice('flowing', 'Water while deploying', 'deploy_day', 'nozzle.flowing', { no: 'off', yes: 'flowing' }),
];

export const controlOf = (id) => CONTROLS.find((control) => control.id === id);

// ---- reading and setting ----

// Each kind: value(truck, settings, control), put(truck, settings, control, value), options, numbers.
const KINDS = {
  number: {
    value: (t, s, c) => t.value(s, OF_LAYER[c.layer], c.path),
    put: (t, s, c, value) => s.set(`${c.layer}.${c.path}`, value),
    names: (c) => [`${c.layer}.${c.path}`],
    unit: (t, c) => t.key(c.path).unit,
    fits: (t, c) =>
      (t.deploys || c.layer !== 'deploy_day') && t.value(new Map(), OF_LAYER[c.layer], c.path) !== undefined,
  },
  motors: {
    value: (t, s, c) => Math.max(...RISES.map((path) => t.value(s, OF_LAYER[c.layer], path))),
    put: (t, s, c, value) => RISES.forEach((path) => s.set(`${c.layer}.${path}`, value)),
    names: (c) => RISES.map((path) => `${c.layer}.${path}`),
    unit: () => 'K',
    fits: (t, c) => t.deploys || c.layer !== 'deploy_day',
  },
  choice: {
    value: (t, s, c) => t.value(s, OF_LAYER[c.layer], c.path),
    put: (t, s, c, value) => s.set(`${c.layer}.${c.path}`, value),
    names: (c) => [`${c.layer}.${c.path}`],
    options: (t, c) => {
      const key = t.key(c.path);
      const list =
        key.kind === 'yes_no'
          ? [
              ['no', 0],
              ['yes', 1],
            ]
          : words(key).map((word, i) => [word, key.values[i]]);
      return list.map(([word, value]) => [c.wordsShown[word], value]);
    },
    fits: (t, c) => c.path !== 'nozzle.flowing' || (t.deploys && nozzleKnown(t)),
  },
  clearance: {
    value: (t, s) => clearanceOf(t, s).clearance,
    put: (t, s, c, value) => {
      const { stop, direction } = clearanceOf(t, s);
      s.set('file.stow.point.elevation', stop - direction * value);
    },
    names: () => ['file.stow.point.elevation'],
    unit: () => 'deg',
    fits: (t) => t.hasPoint,
  },
  size: {
    value: (t, s) => t.value(s, 'today', sizePath(t)),
    put: (t, s, c, value) => s.set(`file.${sizePath(t)}`, value),
    names: () => ['file.supply.feed.gauge', 'file.supply.feed.area'],
    options: (t) => withOwn(SIZES[sizePath(t)] ?? [], t.base('file', sizePath(t)), (v) => sizeName(t, v)),
    fits: (t) => sizePath(t) in SIZES,
  },
  bad: {
    value: (t, s) => badOf(t, s),
    put: (t, s, c, value) => putBad(t, s, value),
    names: () => ['today.supply.feed.joint_resistance', 'today.supply.feed.joints'],
    unit: () => 'mohm',
    fits: () => true,
  },
  sensor: {
    value: (t, s, c) => sensorState(t, s, c),
    put: (t, s, c, value) => putSensor(t, s, c, value),
    names: (c) => ['present', 'stuck', 'operate', 'release'].map((last) => `today.${c.axis}.home.${last}`),
    options: (t, c) => c.options.map((word) => [word, word]),
    fits: () => true,
  },
};

function nozzleKnown(t) {
  const has = (path) => (t.base('file', path) ?? 0) > 0;
  return has('nozzle.pressure') && (has('nozzle.flow') || has('nozzle.tip'));
}

function clearanceOf(t, s) {
  const marks = { stops: t.range(s, 'elevation'), point: t.value(s, 'taught', 'stow.point.elevation') };
  const base = { ...marks, point: t.base('file', 'stow.point.elevation') };
  const near = nearStop(base);
  return { stop: near.angle, direction: near.direction, clearance: Math.abs(marks.point - near.angle) };
}

const SIZES = {
  'supply.feed.gauge': [16, 14, 12, 10, 8, 6, 4, 2, 0, -1, -3],
  'supply.feed.area': [2.5e-6, 4e-6, 6e-6, 10e-6, 16e-6, 25e-6, 35e-6, 50e-6, 70e-6],
};

function sizePath(t) {
  return ['gauge', 'area', 'per_length']
    .map((last) => `supply.feed.${last}`)
    .find((path) => t.base('file', path) !== undefined);
}

function sizeName(t, value) {
  return sizePath(t) === 'supply.feed.gauge'
    ? gaugeName(value)
    : withUnit(fixed(value * 1e6, value < 9e-6 ? 1 : 0), 'mm2');
}

function withOwn(list, own, name) {
  const all = list.includes(own) ? list : [...list, own];
  return all.map((value) => [name(value), value]);
}

// one more resistance in the loop, spread over its equal connections
function badOf(t, s) {
  const joints = t.value(s, 'today', 'supply.feed.joints');
  const each = t.value(s, 'today', 'supply.feed.joint_resistance');
  const own = new Map();
  return (
    joints * each -
    t.value(own, 'today', 'supply.feed.joints') * t.value(own, 'today', 'supply.feed.joint_resistance')
  );
}

function putBad(t, s, value) {
  const own = new Map();
  const joints = t.value(own, 'today', 'supply.feed.joints');
  const each = t.value(own, 'today', 'supply.feed.joint_resistance');
  if (joints < 1) s.set('today.supply.feed.joints', 1);
  s.set('today.supply.feed.joint_resistance', joints < 1 ? value : each + value / joints);
}

const homeOf = (c, last) => `${c.axis}.home.${last}`;

function putSensor(t, s, c, state) {
  KINDS.sensor.names(c).forEach((name) => s.delete(name));
  for (const [last, change] of Object.entries(SENSOR[state])) {
    const own = t.value(s, 'today', homeOf(c, last));
    const value = typeof change === 'number' ? change : own * Number(change.split(' ')[1]);
    s.set(`today.${homeOf(c, last)}`, value);
  }
}

function sensorState(t, s, c) {
  const has = (last) => s.has(`today.${homeOf(c, last)}`);
  if (has('present')) return 'dead';
  if (has('stuck')) return 'stuck';
  return has('operate') ? 'weak' : 'good';
}

// ---- as lessons name them: in the file's unit, voltages of a 12 V truck ----

const systemShare = (t) => t.base('file', 'supply.system') / 12;

export function putControl(truck, settings, control, value) {
  KINDS[control.kind].put(truck, settings, control, value);
}

export function putLessonValue(truck, settings, id, value) {
  const control = controlOf(id);
  const kind = KINDS[control.kind];
  if (!kind.fits(truck, control)) return;
  const inUnits = kind.unit
    ? toSI(kind.unit(truck, control), value * (control.perSystem ? systemShare(truck) : 1))
    : value;
  kind.put(truck, settings, control, typeof value === 'string' ? wordValue(truck, control, value) : inUnits);
}

function wordValue(truck, control, word) {
  if (control.kind !== 'choice') return word;
  const key = truck.key(control.path);
  return key.kind === 'yes_no' ? Number(word === 'yes') : key.values[words(key).indexOf(word)];
}

// anywhere in its range, by a share from 0 to 1
export function putShare(truck, settings, control, share) {
  const kind = KINDS[control.kind];
  if (!kind.fits(truck, control)) return;
  if (kind.options) {
    const options = kind.options(truck, control);
    kind.put(truck, settings, control, options[Math.floor(share * options.length)][1]);
    return;
  }
  const times = control.perSystem ? systemShare(truck) : 1;
  const value = (control.from + (control.to - control.from) * share) * times;
  kind.put(truck, settings, control, toSI(kind.unit(truck, control), value));
}

export const fitsTruck = (truck, control) => KINDS[control.kind].fits(truck, control);

// ---- on the screen ----

const touched = (settings, control) => KINDS[control.kind].names(control).some((name) => settings.has(name));

export function release(settings, control) {
  KINDS[control.kind].names(control).forEach((name) => settings.delete(name));
}

// what the slider spans, in the unit of the screen, its own value inside
function span(truck, control, unit, at) {
  const own = KINDS[control.kind].unit(truck, control);
  const share = control.perSystem ? systemShare(truck) : 1;
  const [from, to] = [control.from, control.to].map((end) => fromSI(unit, toSI(own, end * share)));
  const isOwn = unit === own;
  return {
    from: Math.min(isOwn ? from : Math.ceil(from), at),
    to: Math.max(isOwn ? to : Math.floor(to), at),
    step: isOwn ? control.step * share : 1,
  };
}

function slider(truck, control, system, value, change) {
  const unit = unitFor(KINDS[control.kind].unit(truck, control), system);
  const at = fromSI(unit, value);
  const { from, to, step } = span(truck, control, unit, at);
  const rounded = (text) => Math.round(Number(text) / step) * step;
  return el('input', {
    type: 'range',
    id: `c-${control.id}`,
    min: from,
    max: to,
    step: 'any',
    value: at,
    oninput: (event) => change(toSI(unit, rounded(event.target.value))),
    onkeydown: (event) => stepByKey(event, step),
  });
}

// arrow keys go by the control's own step
function stepByKey(event, step) {
  const by = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 10, PageDown: -10 }[
    event.key
  ];
  if (!by) return;
  event.preventDefault();
  const input = event.target;
  input.value = Math.min(Number(input.max), Math.max(Number(input.min), Number(input.value) + by * step));
  input.dispatchEvent(new Event('input'));
}

function select(truck, control, value, change) {
  const options = KINDS[control.kind].options(truck, control);
  return el(
    'select',
    { id: `c-${control.id}`, onchange: (event) => change(options[event.target.selectedIndex][1]) },
    ...options.map(([name, own]) => el('option', { selected: own === value }, name)),
  );
}

function valueText(truck, control, system, value) {
  const unit = KINDS[control.kind].unit?.(truck, control);
  return unit
    ? shown({ unit }, value, system, control.kind === 'number' && unit === 's' ? 1 : undefined)
    : '';
}

// One row; { node, update() }. `change(control, value)` is told of every move.
export function drawControl(truck, control, state, change) {
  const kind = KINDS[control.kind];
  const value = () => kind.value(truck, state.settings, control);
  const told = el('output', { for: `c-${control.id}`, class: 'num' });
  const input = kind.options
    ? select(truck, control, value(), (v) => change(control, v))
    : slider(truck, control, state.system, value(), (v) => change(control, v));
  const node = el(
    'div',
    { class: 'control' },
    el('label', { for: `c-${control.id}` }, control.text),
    told,
    input,
  );
  const update = () => {
    told.textContent = valueText(truck, control, state.system, value());
    node.classList.toggle('touched', touched(state.settings, control));
  };
  update();
  return { node, update };
}
