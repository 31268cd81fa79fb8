// link.js - every setting in the address, and back.

// "#lesson=...&units=US&A.today.supply.main.voltage=11.8": values in SI
// "&exercise=2.4711&checks=3.7&guesses=4&open=1": the level and the number that the fault was drawn by
export function writeLink(state, exercise) {
  const query = new URLSearchParams();
  query.set('lesson', state.lesson);
  query.set('units', state.system);
  for (const name of ['predict', 'compare', 'hide']) if (state[name]) query.set(name, '1');
  if (state.compare) query.set('side', state.side);
  for (const side of ['A', 'B'])
    for (const [name, value] of state.sides[side]) query.set(`${side}.${name}`, String(value));
  for (const [name, value] of state.own) query.set(`own.${name}`, String(value));
  if (exercise) writeExercise(query, exercise);
  return `#${query}`;
}

function writeExercise(query, { level, seed, checks, guesses, open }) {
  query.set('exercise', `${level}.${seed}`);
  if (checks.length > 0) query.set('checks', checks.join('.'));
  if (guesses.length > 0) query.set('guesses', guesses.join('.'));
  if (open) query.set('open', '1');
}

// the exercise that the address keeps; null: none
export function readExercise(hash) {
  const query = new URLSearchParams(hash.replace(/^#/, ''));
  const [, level, seed] = /^(\d+)\.(\d{1,6})$/.exec(query.get('exercise') ?? '') ?? [];
  if (!level) return null;
  const numbers = (name) => (query.get(name) ?? '').split('.').filter(Boolean).map(Number);
  return {
    level,
    seed: Number(seed),
    checks: numbers('checks'),
    guesses: numbers('guesses'),
    open: query.has('open'),
  };
}

// what the address says, as far as this truck knows it; null: nothing
export function readLink(hash, knows) {
  const query = new URLSearchParams(hash.replace(/^#/, ''));
  if (!query.has('lesson')) return null;
  const state = {
    lesson: query.get('lesson'),
    system: query.get('units') === 'SI' ? 'SI' : 'US',
    predict: query.has('predict'),
    compare: query.has('compare'),
    hide: query.has('hide'),
    side: query.get('side') === 'B' ? 'B' : 'A',
    sides: { A: new Map(), B: new Map() },
    own: new Map(),
  };
  for (const [name, text] of query) {
    const [, group, setting] = /^(A|B|own)\.(.+)$/.exec(name) ?? [];
    const value = Number(text);
    if (setting && knows(setting) && Number.isFinite(value))
      (group === 'own' ? state.own : state.sides[group]).set(setting, value);
  }
  return state;
}
