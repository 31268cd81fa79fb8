// yaml.js - this page's trucks as scenario files, and back.
import { differenceFromSI, fileNumber, fileText, fromSI } from './units.js';
import { LAYERS } from './words.js';

// ---- writing ----

const quoted = (text) => JSON.stringify(text);

// keys of one file as a tree, by the names in their paths
function treeOf(truck, values) {
  const tree = {};
  for (const [number, value] of values) {
    const key = truck.keys[number];
    if (isLeftOut(truck, key.path)) continue;
    const names = key.path.split('.');
    const last = names.pop();
    let place = tree;
    for (const name of names) place = place[name] ??= {};
    place[last] = fileText(key, value);
  }
  return tree;
}

// of points and times, of which one gives the other, the one that is given
function isLeftOut(truck, path) {
  return path === 'format' || path === 'title' || (path.startsWith('stow.point.') && truck.hasTimes);
}

function lines(tree, indent) {
  return Object.entries(tree).flatMap(([name, value]) =>
    typeof value === 'string'
      ? [`${indent}${name}: ${value}`]
      : [`${indent}${name}:`, ...lines(value, `${indent}  `)],
  );
}

function layerLines(truck, number) {
  const items = [...truck.layers[number]].map(
    ([k, value]) => `  ${truck.keys[k].path}: ${fileText(truck.keys[k], value)}`,
  );
  return items.length > 0 ? [`${LAYERS[number]}:`, ...items] : [];
}

// a difference of temperatures is written in K
function differenceText(key, value) {
  const number = Number(differenceFromSI(key.unit ?? '', value).toPrecision(13));
  const unit = key.unit === 'degC' ? 'K' : (key.unit ?? '');
  return unit ? `${number} ${unit}` : String(number);
}

function distribution(key, v) {
  const text = (value) => fileText(key, value);
  const cut = {};
  if (v.low !== null) cut.low = text(v.low);
  if (v.high !== null) cut.high = text(v.high);
  switch (v.distribution) {
    case 'uniform':
      return { uniform: cut };
    case 'normal':
      return { normal: { mean: text(v.mean), sd: differenceText(key, v.sd), ...cut } };
    case 'triangular':
      return { triangular: { low: cut.low, mode: text(v.mode), high: cut.high } };
    default:
      return { table: Object.fromEntries(pairs(v.table).map(([value, weight]) => [text(value), weight])) };
  }
}

function pairs(list) {
  return Array.from({ length: list.length / 2 }, (_, i) => [list[2 * i], list[2 * i + 1]]);
}

function spreadLines(truck) {
  const { data, keys } = truck;
  // a page knows windows, not the magnets that give them
  const kept = (name) => data[name].filter((v) => !keys[v.key].path.includes('.magnet.'));
  const row = (v) => `    ${keys[v.key].path}: ${JSON.stringify(distribution(keys[v.key], v))}`;
  const group = (name) => (kept(name).length > 0 ? [`  ${name}:`, ...kept(name).map(row)] : []);
  const together = data.correlation.map(([a, b, coefficient]) => ({
    between: [keys[a].path, keys[b].path],
    coefficient,
  }));
  const body = [...group('truck'), ...group('day')];
  if (together.length > 0) body.push(`  correlation: ${JSON.stringify(together)}`);
  return body.length > 0 ? ['spread:', ...body] : [];
}

function zoneLines(truck) {
  if (truck.keepout.length === 0) return [];
  const degrees = (value) => `${Number(fromSI('deg', value).toPrecision(13))} deg`;
  const side = (low, high) => {
    const range = {};
    if (low !== null) range.low = degrees(low);
    if (high !== null) range.high = degrees(high);
    return range;
  };
  const zones = truck.keepout.map((z) => {
    const zone = { name: z.name };
    if (z.left !== null || z.right !== null) zone.rotation = side(z.left, z.right);
    if (z.lower !== null || z.upper !== null) zone.elevation = side(z.lower, z.upper);
    return zone;
  });
  return [`keepout: ${JSON.stringify(zones)}`];
}

function putChoices(truck, tree) {
  if (!tree.deploy) return;
  const list = (axis) => `[${truck.choices[axis].map((s) => `${Number(s.toPrecision(13))} s`).join(', ')}]`;
  tree.deploy.choices = { rotation: list(0), elevation: list(1) };
}

// The file's own values with the truck's own figures put in, and everything else as it came.
export function writeYaml(truck, own) {
  const values = new Map(truck.layers[0]);
  for (const [name, value] of own) values.set(truck.number.get(name), value);
  const tree = treeOf(truck, values);
  putChoices(truck, tree);
  return [
    '# Written by the page of slewtime. Simulated: it does not replace a test on the truck.',
    'format: 1',
    `title: ${quoted(truck.title)}`,
    ...lines(tree, ''),
    ...zoneLines(truck),
    ...[1, 2, 3].flatMap((layer) => layerLines(truck, layer)),
    ...spreadLines(truck),
    '',
  ].join('\n');
}

// ---- reading what was written ----

const NOT_OURS =
  'This page opens files that it has saved. For any other, run: slewtime page FILE --out lesson.html';

// paths with their texts; a block under a name is a path, all else is the value behind the colon
function readLines(text) {
  const found = new Map();
  const names = [];
  for (const line of text.split('\n')) {
    if (/^\s*(#|$)/.test(line)) continue;
    const [, indent, name, value] = /^((?: {2})*)([\w.]+): ?(.*)$/.exec(line) ?? [];
    if (name === undefined) throw new Error(NOT_OURS);
    names.length = indent.length / 2;
    names.push(name);
    if (value !== '') found.set(names.join('.'), value);
  }
  return found;
}

// { title, values, layers } of the file; throws an Error that says what is wrong
export function readYaml(text, truck) {
  if (!text.startsWith('# Written by the page of slewtime.')) throw new Error(NOT_OURS);
  const read = { title: truck.title, values: new Map(), layers: [null, new Map(), new Map(), new Map()] };
  for (const [path, value] of readLines(text)) {
    if (path === 'title') read.title = JSON.parse(value);
    else if (path !== 'format') take(read, truck, path, value);
  }
  return read;
}

function take(read, truck, path, text) {
  const layer = LAYERS.findIndex((name, i) => i > 0 && path.startsWith(`${name}.`));
  const own = layer > 0 ? path.slice(LAYERS[layer].length + 1) : path;
  const number = truck.number.get(own);
  if (number === undefined || !['number', 'yes_no', 'choice'].includes(truck.keys[number].kind)) return;
  const value = fileNumber(truck.keys[number], text);
  if (Number.isNaN(value)) throw new Error(`${path}: "${text}" can't be read`);
  (layer > 0 ? read.layers[layer] : read.values).set(number, value);
}
