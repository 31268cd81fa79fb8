// units.js - SI to the units of the screen, US or SI, and to those of a scenario file.

const DEGREE = Math.PI / 180;
const FOOT = 0.3048;
const POUND_FORCE = 4.4482216152605;

// SI value = (value + offset) * times
const UNITS = {
  '': { times: 1 },
  '%': { times: 0.01 },
  AWG: { times: 1 },
  V: { times: 1 },
  A: { times: 1 },
  ohm: { times: 1, label: 'Ω' },
  mohm: { times: 1e-3, label: 'mΩ' },
  'ohm/km': { times: 1e-3, label: 'Ω/km' },
  'ohm/kft': { times: 1 / (1000 * FOOT), label: 'Ω/1000 ft' },
  m: { times: 1 },
  ft: { times: FOOT },
  mm: { times: 1e-3 },
  in: { times: 0.0254 },
  mm2: { times: 1e-6, label: 'mm²' },
  deg: { times: DEGREE, label: '°' },
  'deg/s': { times: DEGREE, label: '°/s' },
  rpm: { times: Math.PI / 30 },
  s: { times: 1 },
  ms: { times: 1e-3 },
  degC: { times: 1, offset: 273.15, label: '°C' },
  degF: { times: 5 / 9, offset: 459.67, label: '°F' },
  K: { times: 1 },
  'K in degF': { times: 5 / 9, label: '°F' }, // a difference
  '%/K': { times: 0.01 },
  'mm2/s': { times: 1e-6, label: 'mm²/s' },
  gpm: { times: 3.785411784 / 60000 },
  'L/min': { times: 1 / 60000 },
  bar: { times: 1e5 },
  psi: { times: POUND_FORCE / (0.0254 * 0.0254) },
  'kg.m2': { times: 1, label: 'kg·m²' },
  'N.m': { times: 1, label: 'N·m' },
  'lbf.ft': { times: POUND_FORCE * FOOT, label: 'lbf·ft' },
  'N.m/bar': { times: 1e-5, label: 'N·m/bar' },
  kg: { times: 1 },
  lb: { times: 0.45359237 },
  T: { times: 1 },
  mT: { times: 1e-3 },
};

// what a US reader expects in place of a file's unit
const US = {
  m: 'ft',
  mm: 'in',
  degC: 'degF',
  K: 'K in degF',
  bar: 'psi',
  'N.m': 'lbf.ft',
  kg: 'lb',
  'L/min': 'gpm',
};
const METRIC = { gpm: 'L/min' };

export const systems = { US, SI: METRIC };

export function unitFor(unit, system) {
  return systems[system][unit] ?? unit;
}

export function fromSI(unit, value) {
  return value / UNITS[unit].times - (UNITS[unit].offset ?? 0);
}

export function toSI(unit, value) {
  return (value + (UNITS[unit].offset ?? 0)) * UNITS[unit].times;
}

// a difference: temperatures have no zero point then
export function differenceFromSI(unit, value) {
  return value / UNITS[unit].times;
}

export const knowsUnit = (unit) => unit in UNITS;

export function label(unit) {
  return UNITS[unit].label ?? unit;
}

// "13.4 V", "16°", "35 %": a sign belongs to its number, a word stands apart
export function withUnit(text, unit) {
  const name = label(unit);
  if (name === '') return text;
  return name === '°' ? `${text}°` : `${text} ${name}`;
}

export function fixed(value, digits) {
  const text = value.toFixed(digits);
  const plain = Number(text) === 0 ? text.replace('-', '') : text;
  return plain.replace('-', '−');
}

export function degrees(value, digits = 1) {
  return `${fixed(value / DEGREE, digits)}°`;
}

export function gaugeName(gauge) {
  return gauge <= 0 ? `${1 - gauge}/0 AWG` : `${gauge} AWG`;
}

// a number as short as it can be told exactly to 13 digits
function exact(value) {
  return String(Number(value.toPrecision(13)));
}

// as a scenario file has it: "13.4 V"
export function fileText(key, value) {
  if (value === Infinity) return 'never';
  if (key.kind === 'yes_no') return value === 1 ? 'yes' : 'no';
  if (key.kind === 'choice') return words(key)[key.values.indexOf(value)];
  if (key.unit === 'AWG') return Number.isInteger(value) ? gaugeName(value) : `${exact(value)} AWG`;
  const number = exact(fromSI(key.unit ?? '', value));
  return key.unit ? `${number} ${key.unit}` : number;
}

// and back; NaN: it can't be read
export function fileNumber(key, text) {
  const plain = String(text).trim();
  if (plain === 'never') return Infinity;
  if (key.kind === 'yes_no') return { yes: 1, no: 0 }[plain] ?? NaN;
  if (key.kind === 'choice') return key.values[words(key).indexOf(plain)] ?? NaN;
  const zeros = /^([1-4])\/0 AWG$/.exec(plain);
  if (zeros) return 1 - Number(zeros[1]);
  const match = /^([-+]?[0-9.]+(?:e[-+]?[0-9]+)?) *(.*)$/i.exec(plain);
  if (!match || !knowsUnit(match[2])) return NaN;
  return toSI(match[2], Number(match[1]));
}

export function words(key) {
  return key.words.split('|').map((word) => word.trim());
}

// on the screen, to so many digits
export function shown(key, value, system, digits) {
  if (key.kind === 'yes_no' || key.kind === 'choice') return fileText(key, value);
  if (key.unit === 'AWG') return gaugeName(value);
  const unit = unitFor(key.unit ?? '', system);
  return withUnit(fixed(fromSI(unit, value), digits ?? digitsFor(unit)), unit);
}

const DIGITS = {
  degC: 0,
  degF: 0,
  K: 0,
  'K in degF': 0,
  V: 1,
  A: 1,
  mohm: 0,
  deg: 1,
  s: 2,
  ft: 0,
  m: 1,
  rpm: 0,
  '%': 0,
};

export function digitsFor(unit) {
  return DIGITS[unit] ?? 1;
}
