// outcome.js - what a run amounts to: the finding in one sentence, and its role.
import { degrees, shown } from './units.js';
import { AXES, capital, faultName, faultReason, movingPart, stopName } from './words.js';

// How an axis missed its point: the barrel, driven on from home, stops short or runs past.
function besidePoint(truck, settings, run, axis) {
  const name = AXES[axis];
  const point = truck.value(settings, 'taught', `stow.point.${name}`);
  const onward = Math.sign(point - truck.value(settings, 'today', `${name}.home.angle`));
  const beyond = run.stow.angle[axis] - point;
  if (axis === 0) return `${degrees(run.off)} ${beyond < 0 ? 'left' : 'right'} of its stow point`;
  if (onward === 0) return `${degrees(run.off)} ${beyond < 0 ? 'below' : 'above'} its stow point`;
  return `${degrees(run.off)} ${beyond * onward > 0 ? 'past' : 'short of'} its stow point`;
}

function belowOrAbove(truck, settings, run, axis) {
  const name = AXES[axis];
  const low = truck.value(settings, 'deploy', `deploy.target.${name}.low`);
  const below = run.deploy.angle[axis] < low;
  const words = axis === 1 ? ['below', 'above'] : ['left of', 'right of'];
  return `${degrees(run.off)} ${below ? words[0] : words[1]} its deploy target`;
}

function stopUnder(truck, settings, run) {
  const axis = run.jammedAxis;
  const [low] = truck.range(settings, AXES[axis]);
  return stopName(axis, run.stow.angle[axis] <= low + 1e-9 ? -1 : 1);
}

function faulted(run) {
  const part = run.stow.says === 'fault' ? run.stow : run.deploy;
  const when =
    run.stow.says === 'fault' ? 'Stow stops with a fault' : 'Stowed, but deploy stops with a fault';
  return `${when}: ${faultReason(part.fault, part.axis)}`;
}

const SENTENCES = {
  ok: (t) => (t.truck.deploys ? 'Stows and deploys on target' : 'Stows on target'),
  below_floor: (t) =>
    `On target, but the voltage falls to ${shown({ unit: 'V' }, t.run.lowestLoaded, 'SI')}, below the minimum`,
  off_target: (t) =>
    `Controller reports deployed, but ${movingPart(t.axis)} rests ${belowOrAbove(t.truck, t.settings, t.run, t.axis)}`,
  off_point: (t) =>
    `Controller reports stowed, but ${movingPart(t.axis)} rests ${besidePoint(t.truck, t.settings, t.run, t.axis)}`,
  pressed: (t) =>
    `Controller reports stowed, but ${movingPart(t.run.jammedAxis)} is jammed against its ${stopUnder(t.truck, t.settings, t.run)}`,
  keepout: (t) =>
    `Controller reports ${t.run.deploy.says === 'deployed' ? 'all is well' : 'stowed'}, but the barrel enters a keep-out zone`,
  does_not_hold: () => 'An axis does not hold against its load',
};

const ROLES = { ok: 'good', below_floor: 'warning', off_target: 'wrong', off_point: 'wrong' };

export const ROLE_WORDS = { good: 'Good', warning: 'Watch', wrong: 'Wrong' };

const FAULTS = [
  'home_not_found',
  'hard_stop',
  'overload',
  'timeout',
  'undervoltage',
  'cancelled',
  'does_not_hold',
];

// what is told of several: a jam is worse than a zone entered
function worst(run) {
  return run.jammedAxis >= 0 && !FAULTS.includes(run.outcome) ? 'pressed' : run.outcome;
}

// the axis that the finding is about; -1: none
export function axisOf(run) {
  return worst(run) === 'pressed' ? run.jammedAxis : run.outcomeAxis;
}

export const isAboutStow = (run) => ['pressed', 'off_point', 'keepout'].includes(worst(run));

// { sentence, role }
export function finding(truck, settings, run) {
  if (run.error) return { sentence: `Can't be simulated: ${run.error}`, role: 'wrong' };
  const told = { truck, settings, run, axis: run.outcomeAxis };
  const sentence = (SENTENCES[worst(run)] ?? (() => faulted(run)))(told);
  return { sentence, role: ROLES[worst(run)] ?? 'wrong' };
}

// ---- what the controller reports, and what is true ----

function reported(part) {
  if (part.says === 'fault') return `fault: ${faultName(part.fault)}`;
  if (part.says === 'not_run') return 'nothing';
  return part.says;
}

// where a fault has left the axis that it is about
function faultPlace(truck, settings, { axis, angle }) {
  if (axis < 0) return 'stopped on the way';
  const [low, high] = truck.range(settings, AXES[axis]);
  if (angle[axis] <= low + 1e-9) return `on its ${stopName(axis, -1)}`;
  return angle[axis] >= high - 1e-9 ? `on its ${stopName(axis, 1)}` : 'stopped on the way';
}

function trueStow(truck, settings, run) {
  if (run.jammedAxis >= 0) return `jammed against its ${stopUnder(truck, settings, run)}`;
  if (run.stow.says === 'fault') return faultPlace(truck, settings, run.stow);
  if (!run.stow.hasTarget) return `rests at ${degrees(run.stow.angle[1])}`;
  return run.stow.onTarget ? 'on target' : 'off its stow point';
}

function trueDeploy(truck, settings, run) {
  if (run.deploy.says === 'not_run') return 'not attempted';
  if (run.deploy.says === 'fault') return faultPlace(truck, settings, run.deploy);
  return run.deploy.onTarget ? 'inside the target' : 'outside the target';
}

function zonesEntered(truck, run) {
  const entered = run.events
    .filter((event) => event.kind === 'keepout_entered')
    .map((event) => truck.keepout[event.zone].name);
  return entered.length > 0 ? `entered: ${[...new Set(entered)].join(', ')}` : 'none entered';
}

// rows of [what, reported, true, role]
export function reportRows(truck, settings, run) {
  if (run.error) return [];
  const stowRight = run.stow.says === 'stowed' && run.stow.onTarget && run.jammedAxis < 0;
  const place = (part) =>
    part.says === 'not_run' ? ['', ''] : [degrees(part.angle[1]), degrees(part.angle[0])];
  const rows = [
    [
      'Stow',
      reported(run.stow),
      trueStow(truck, settings, run),
      place(run.stow),
      stowRight ? 'good' : 'wrong',
    ],
  ];
  if (truck.deploys)
    rows.push([
      'Deploy',
      reported(run.deploy),
      trueDeploy(truck, settings, run),
      place(run.deploy),
      run.deploy.onTarget ? 'good' : 'wrong',
    ]);
  if (truck.keepout.length > 0)
    rows.push(['Keep-out', 'nothing', zonesEntered(truck, run), ['', ''], run.visits > 0 ? 'wrong' : 'good']);
  return rows.map(([part, says, truth, at, role]) => ({
    part,
    says: capital(says),
    truth: capital(truth),
    at,
    role,
  }));
}
