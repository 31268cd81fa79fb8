// words.js - one word for one thing.

export const AXES = ['rotation', 'elevation'];
export const LAYERS = ['file', 'teach', 'today', 'deploy_day'];

export function stopName(axis, direction) {
  if (axis === 1) return direction < 0 ? 'lower stop' : 'upper stop';
  return direction < 0 ? 'left stop' : 'right stop';
}

// what moves about an axis
export const movingPart = (axis) => (axis === 1 ? 'the barrel' : 'the monitor');

function towards(axis, direction) {
  if (axis === 1) return direction < 0 ? 'lowering' : 'raising';
  return direction < 0 ? 'turning left' : 'turning right';
}

const REASONS = {
  home_not_found: (e) => `home not found on ${AXES[e.axis]}`,
  hard_stop: (e) => `${AXES[e.axis]} stalled on its hard stop`,
  overload: (e) => `${AXES[e.axis]} stalled away from its stops`,
  timeout: (e) => `${AXES[e.axis]} motor on for too long`,
  undervoltage: () => 'brownout, voltage too low',
  cancelled: () => 'canceled by the operator',
};

export function faultReason(fault, axis) {
  return (REASONS[fault] ?? (() => fault))({ axis });
}

// the same in a word or two
const SHORT = { undervoltage: 'brownout', cancelled: 'canceled' };

export const faultName = (fault) => SHORT[fault] ?? fault.replaceAll('_', ' ');

const EVENTS = {
  drive_on: (e) => `${AXES[e.axis]} motor on, ${towards(e.axis, e.direction)}`,
  drive_off: (e) => `${AXES[e.axis]} motor off`,
  moving: (e) => `${AXES[e.axis]} starts to move`,
  at_rest: (e) => `${AXES[e.axis]} comes to rest`,
  switch_closed: (e) => `${AXES[e.axis]} home sensor closes`,
  switch_open: (e) => `${AXES[e.axis]} home sensor opens`,
  home_found: (e) => `${AXES[e.axis]} home found`,
  stop_contact: (e) => `${AXES[e.axis]} strikes its ${stopName(e.axis, e.direction)}`,
  stall: (e) => `${AXES[e.axis]} stall detected`,
  low_voltage: () => 'below the minimum voltage',
  brownout: () => 'brownout: motors off',
  keepout_entered: () => 'keep-out zone entered',
  keepout_left: () => 'keep-out zone left',
  done: () => 'controller reports done',
  fault: (e) => `controller reports a fault: ${faultReason(e.fault, e.axis)}`,
  does_not_hold: (e) => `${AXES[e.axis]} does not hold against its load`,
};

export function eventWords(event) {
  return (EVENTS[event.kind] ?? (() => event.kind))(event);
}

export function capital(text) {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

export function plural(count, one, many = `${one}s`) {
  return `${count === 0 ? 'no' : count} ${count === 1 ? one : many}`;
}
