// owntruck.js - the figures of another truck: typed in, checked as the tool checks, saved, opened.
import { byId, el, saveFile, say } from './dom.js';
import { applySettings } from './truck.js';
import { fromSI, label, toSI, unitFor } from './units.js';
import { readYaml, writeYaml } from './yaml.js';

// what matters most, with plain words
const FIGURES = {
  'Battery and feed cable': {
    'supply.main.voltage': 'Battery voltage',
    'supply.main.resistance': 'Battery resistance',
    'supply.feed.gauge': 'Cable size, AWG',
    'supply.feed.area': 'Conductor area',
    'supply.feed.length': 'Length, one way',
    'supply.feed.joints': 'Connections',
    'supply.feed.joint_resistance': 'Resistance of each',
  },
  'Elevation motor and gear': {
    'elevation.motor.rated_voltage': 'Rated voltage',
    'elevation.motor.no_load_speed': 'No-load speed',
    'elevation.motor.no_load_current': 'No-load current',
    'elevation.motor.stall_current': 'Stall current',
    'elevation.gear.ratio': 'Gear ratio',
    'elevation.gear.efficiency': 'Gear efficiency',
    'deploy.seconds.elevation': 'Deploy seconds',
  },
  Elevation: {
    'elevation.stops.low': 'Lower stop',
    'elevation.stops.high': 'Upper stop',
    'elevation.home.angle': 'Home',
    'stow.point.elevation': 'Stow point',
    'deploy.target.elevation.low': 'Deploy target from',
    'deploy.target.elevation.high': 'Deploy target to',
  },
  Rotation: {
    'rotation.stops.low': 'Left stop',
    'rotation.stops.high': 'Right stop',
    'rotation.home.angle': 'Home',
    'stow.point.rotation': 'Stow point',
  },
};

// a file has 13 digits
const isClose = (a, b) => a === b || Math.abs(a - b) <= 1e-12 * Math.abs(b);

export class OwnTruck {
  // `state.own` is a Map of paths to SI; `changed` is told when it changes
  constructor(machine, truck, state, changed) {
    Object.assign(this, { machine, truck, state, changed });
    byId('own-save').addEventListener('click', () => this.save());
    byId('own-open').addEventListener('change', (event) => this.open(event.target));
    byId('own-reset').addEventListener('click', () => this.reset());
  }

  value(path) {
    return this.state.own.get(path) ?? this.truck.base('file', path);
  }

  draw() {
    byId('own-figures').replaceChildren(
      ...Object.entries(FIGURES).map(([title, rows]) => {
        const given = Object.entries(rows).filter(([path]) => this.value(path) !== undefined);
        return el('fieldset', {}, el('legend', {}, title), ...given.map((row) => this.row(...row)));
      }),
    );
  }

  row(path, text) {
    const key = this.truck.key(path);
    const unit = unitFor(key.unit ?? '', this.state.system);
    const id = `own-${path}`;
    const shownUnit = unit === '' || unit === 'AWG' ? '' : ` (${label(unit)})`;
    const value = Number(fromSI(unit, this.value(path)).toPrecision(6));
    return el(
      'div',
      { class: 'figure' },
      el('label', { for: id, title: key.meaning }, `${text}${shownUnit}`),
      el('input', {
        id,
        type: 'number',
        step: 'any',
        value: String(value),
        onchange: (event) => this.put(path, unit, event.target),
      }),
    );
  }

  put(path, unit, input) {
    const before = new Map(this.state.own);
    if (input.value !== '') this.state.own.set(path, toSI(unit, Number(input.value)));
    const wrong = input.value === '' ? 'a number is missing' : this.check(path);
    input.setAttribute('aria-invalid', String(wrong !== ''));
    say('own-message', wrong === '' ? '' : `${input.labels[0].textContent}: ${wrong}`);
    if (wrong === '') this.changed();
    else this.state.own = before;
  }

  // as slewtime itself checks it; '': right
  check(path) {
    this.machine.startTrial();
    const fits = applySettings(
      this.machine,
      this.truck,
      new Map([...this.state.own].map(([p, v]) => [`file.${p}`, v])),
    );
    if (!fits) return `out of range, for example ${this.truck.key(path).example}`;
    return this.machine.check();
  }

  save() {
    saveFile('truck.yaml', writeYaml(this.truck, this.state.own), 'application/yaml');
  }

  async open(input) {
    const [file] = input.files;
    if (!file) return;
    try {
      this.take(readYaml(await file.text(), this.truck));
      say('own-message', `Opened ${file.name}`);
    } catch (error) {
      say('own-message', error.message);
    }
    input.value = '';
  }

  // what the file says otherwise becomes the truck's own figures, which the link keeps; its layers take
  // the place of the scenario's
  take(read) {
    const before = [this.truck.layers, this.truck.title, this.state.own];
    const isNew = ([number, value]) => !isClose(value, this.truck.layers[0].get(number));
    const changed = [...read.values]
      .filter(isNew)
      .map(([number, value]) => [this.truck.keys[number].path, value]);
    this.state.own = new Map(changed);
    this.truck.layers = [this.truck.layers[0], ...read.layers.slice(1)];
    this.truck.title = read.title;
    this.machine.begin(this.truck);
    const wrong = this.check('title');
    if (wrong !== '') {
      [this.truck.layers, this.truck.title, this.state.own] = before;
      this.machine.begin(this.truck);
      throw new Error(wrong);
    }
    this.draw();
    this.changed();
  }

  reset() {
    this.state.own = new Map();
    say('own-message', '');
    this.draw();
    this.changed();
  }
}
