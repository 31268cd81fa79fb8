// truck.js - the scenario as the tool handed it over, and settings made on top of it.
import { fileText } from './units.js';
import { LAYERS } from './words.js';

// the layers of each occasion, the uppermost first
const OCCASIONS = { taught: [1, 0], today: [2, 0], deploy: [3, 2, 0] };

export class Truck {
  constructor(data) {
    this.data = data;
    this.keys = data.keys;
    this.number = new Map(data.keys.map((key, index) => [key.path, index]));
    this.layers = LAYERS.map((name) => new Map(data[name].map(([k, v]) => [k, v === 'inf' ? Infinity : v])));
    this.choices = data.choices;
    this.keepout = data.keepout;
    this.title = data.title;
  }

  key(path) {
    return this.keys[this.number.get(path)];
  }

  // undefined: not given
  base(layer, path) {
    return this.layers[LAYERS.indexOf(layer)].get(this.number.get(path));
  }

  // what holds on an occasion with these settings: a Map of "layer.path" to SI
  value(settings, occasion, path) {
    for (const layer of OCCASIONS[occasion]) {
      const own = settings.get(`${LAYERS[layer]}.${path}`);
      if (own !== undefined) return own;
      const base = this.layers[layer].get(this.number.get(path));
      if (base !== undefined) return base;
    }
    return undefined;
  }

  range(settings, axisName) {
    const at = (end) => this.value(settings, 'today', `${axisName}.stops.${end}`);
    return [at('low'), at('high')];
  }

  get deploys() {
    return this.base('file', 'deploy.seconds.elevation') !== undefined;
  }

  get hasPoint() {
    return this.base('file', 'stow.point.elevation') !== undefined && !this.hasTimes;
  }

  get hasTimes() {
    return this.base('file', 'stow.times.elevation') !== undefined;
  }

  get varies() {
    return this.data.truck.length + this.data.day.length > 0;
  }
}

// "today.supply.main.voltage" taken apart
export function splitSetting(name) {
  const point = name.indexOf('.');
  return [name.slice(0, point), name.slice(point + 1)];
}

export function applySettings(machine, truck, settings) {
  let fits = true;
  for (const [name, value] of settings) {
    const [layer, path] = splitSetting(name);
    fits = machine.set(LAYERS.indexOf(layer), truck.number.get(path), value) && fits;
  }
  return fits;
}

const OPTIONS = { file: '--set', teach: '--teach', today: '--today', deploy_day: '--deploy-day' };

// the command that gives the same run on a command line
export function commandLine(truck, settings) {
  const quote = (text) => (/^[\w@%+=:,./-]+$/.test(text) ? text : `'${text.replaceAll("'", `'\\''`)}'`);
  const parts = ['slewtime', 'run', quote(truck.data.file_name)];
  for (const [name, value] of settings) {
    const [layer, path] = splitSetting(name);
    parts.push(OPTIONS[layer], quote(`${path}=${fileText(truck.key(path), value)}`));
  }
  return parts.join(' ');
}
