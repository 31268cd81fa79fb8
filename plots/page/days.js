// days.js - a hundred simulated trucks and days, counted anew at every change.
import { el } from './dom.js';
import { applySettings } from './truck.js';

// what is counted, with the role that its bar has; `of` leaves out what a truck does not have
const COUNTED = [
  {
    name: 'stow on target',
    role: 'good',
    is: (r) => r.stow.says === 'stowed' && r.stow.onTarget && r.jammedAxis < 0,
  },
  {
    name: 'deploy inside target',
    role: 'good',
    of: 'deploys',
    is: (r) => r.deploy.says === 'deployed' && r.deploy.onTarget,
  },
  { name: 'jam unnoticed', role: 'wrong', is: (r) => r.jammedAxis >= 0 },
  {
    name: 'stop with a fault',
    role: 'wrong',
    is: (r) => r.stow.says === 'fault' || r.deploy.says === 'fault',
  },
  { name: 'strike a hard stop', role: 'warning', is: (r) => r.strikes > 0 },
];

// how many of the drawn days end in each way; null: that day can't be run
export function countDays(machine, truck, settings) {
  const counted = COUNTED.filter((row) => !row.of || truck[row.of]);
  const counts = counted.map(() => 0);
  let days = 0;
  for (const day of truck.data.days) {
    const result = day && askDay(machine, truck, settings, day);
    if (!result) continue;
    days++;
    counted.forEach((row, i) => (counts[i] += row.is(result) ? 1 : 0));
  }
  return { days, rows: counted.map((row, i) => ({ name: row.name, role: row.role, count: counts[i] })) };
}

// layer, key, value, layer, key, value, ...
export function setDay(machine, day) {
  for (let i = 0; i < day.length; i += 3) machine.set(day[i], day[i + 1], day[i + 2]);
}

// what is set fixes its value on its occasion; the rest stays as drawn
function askDay(machine, truck, settings, day) {
  machine.startTrial();
  setDay(machine, day);
  applySettings(machine, truck, settings);
  return machine.ask();
}

function bar(row, days) {
  const share = days > 0 ? (100 * row.count) / days : 0;
  return el(
    'li',
    {},
    el('span', { class: 'what' }, row.name),
    el(
      'span',
      { class: 'bar', 'aria-hidden': 'true' },
      el('span', { class: `fill ${row.role}`, style: `width:${share}%` }),
    ),
    el('span', { class: 'count' }, row.count === 0 ? 'none' : String(row.count)),
  );
}

export function drawDays(list, note, counted, varies) {
  list.replaceChildren(...counted.rows.map((row) => bar(row, counted.days)));
  note.textContent = words(counted, varies);
}

function words({ days, rows }, varies) {
  if (!varies) return 'The scenario has no spread: every day is the same.';
  const short = days < 100 ? ` ${100 - days} of the 100 can't be simulated.` : '';
  const none = rows.some((row) => row.count === 0 && row.role !== 'good');
  return `Simulated trucks and days.${short}${none ? ` None in ${days} proves nothing about 1 in 1000.` : ''}`;
}
