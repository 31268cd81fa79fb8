// link.js - every setting in the address, and back.

// "#lesson=...&units=US&A.today.supply.main.voltage=11.8": values in SI
export function writeLink(state) {
  const query = new URLSearchParams();
  query.set('lesson', state.lesson);
  query.set('units', state.system);
  for (const name of ['predict', 'compare', 'hide']) if (state[name]) query.set(name, '1');
  if (state.compare) query.set('side', state.side);
  for (const side of ['A', 'B'])
    for (const [name, value] of state.sides[side]) query.set(`${side}.${name}`, String(value));
  for (const [name, value] of state.own) query.set(`own.${name}`, String(value));
  return `#${query}`;
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
