// lens.js - the last degrees before the stop, drawn out straight: where a degree decides.
import { draw } from './dom.js';
import { degrees } from './units.js';
import { capital, stopName } from './words.js';

const DEGREE = Math.PI / 180;

// the stop nearer to the stow point, with the direction towards it
export function nearStop(marks) {
  const [low, high] = marks.stops;
  return marks.point - low <= high - marks.point
    ? { angle: low, direction: -1 }
    : { angle: high, direction: 1 };
}

// only where both point and rest are near the stop
function wanted(marks, rest) {
  if (marks.point === undefined || rest === undefined) return false;
  const { angle } = nearStop(marks);
  return Math.max(Math.abs(marks.point - angle), Math.abs(rest - angle)) < 12 * DEGREE;
}

// the scale: the stop on the left, so many degrees to the right of it
function scaleOf(marks, rest, width) {
  const stop = nearStop(marks);
  const clearance = Math.abs(marks.point - stop.angle);
  const span = Math.max(6 * DEGREE, clearance * 1.9, Math.abs(rest - stop.angle) * 1.2);
  const wall = 40;
  return {
    stop,
    wall,
    x: (angle) => wall + (Math.abs(angle - stop.angle) / span) * (width - wall - 10),
    span,
  };
}

function ticks(scale, width, y) {
  const parts = [];
  for (let n = 1; n * DEGREE < scale.span; n++) {
    const x = scale.x(scale.stop.angle - scale.stop.direction * n * DEGREE);
    if (x < width) parts.push(draw('line', { x1: x, x2: x, y1: y - 5, y2: y, class: 'tick' }));
  }
  return parts;
}

// { turn(angle) } moves the barrel; says in `caption` what is seen
export function drawLens(svg, caption, marks, restAngle) {
  const isWanted = wanted(marks, restAngle);
  svg.parentNode.hidden = !isWanted;
  if (!isWanted) return { turn: () => {} };
  const width = svg.clientWidth || 600;
  const height = svg.clientHeight || 60;
  const s = scaleOf(marks, restAngle, width);
  const near = s.x(Math.max(Math.min(marks.point + marks.tolerance, marks.stops[1]), marks.stops[0]));
  const far = s.x(Math.max(Math.min(marks.point - marks.tolerance, marks.stops[1]), marks.stops[0]));
  const moving = draw('path', { class: 'barrel', d: `M0 ${height * 0.66}L9 4L-9 4Z` });
  const p = s.x(marks.point);
  svg.setAttribute('viewBox', `0 0 ${width} ${height}`);
  svg.replaceChildren(
    draw('rect', { x: 0, y: 0, width: s.wall, height, class: 'stop' }),
    draw('line', { x1: s.wall, x2: width, y1: height, y2: height, class: 'axis' }),
    draw('rect', {
      x: Math.min(near, far),
      y: 6,
      width: Math.abs(near - far),
      height: height - 12,
      class: 'point',
    }),
    draw('line', { x1: p, x2: p, y1: 0, y2: height, class: 'point-line' }),
    ...ticks(s, width, height),
    draw('path', { class: 'rests', d: `M${s.x(restAngle)} ${height * 0.72}l10 ${height * 0.28}l-20 0Z` }),
    moving,
  );
  tell(caption, marks, s.stop, restAngle);
  return {
    turn: (angle) => {
      const x = Math.min(s.x(angle), width + 40);
      moving.setAttribute('transform', `translate(${x} 0)`);
    },
  };
}

function tell(caption, marks, stop, rest) {
  const left = Math.abs(rest - stop.angle);
  caption.replaceChildren(
    `${capital(stopName(marks.axis, stop.direction))}, 1° a tick: taught `,
    number(`${degrees(Math.abs(marks.point - stop.angle))} away`),
    ', rests ',
    number(left < 1e-9 ? 'on it' : `${degrees(left)} away`),
  );
}

function number(text) {
  const span = document.createElement('span');
  span.className = 'num';
  span.textContent = text;
  return span;
}
