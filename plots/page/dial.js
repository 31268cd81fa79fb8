// dial.js - the barrel from the side, or the monitor from above: stops, home, point, target, zones.
import { draw } from './dom.js';
import { degrees } from './units.js';
import { AXES, stopName } from './words.js';

const DEGREE = Math.PI / 180;

// where an angle points: from the side 0 is to the right and + up; from above 0 is up and + right
const DIRECTIONS = {
  side: (angle) => [Math.cos(angle), -Math.sin(angle)],
  above: (angle) => [Math.sin(angle), -Math.cos(angle)],
};

// how many degrees the drawn barrel is turned, clockwise, from where it is drawn
const TURNS = {
  side: (angle) => -angle / DEGREE,
  above: (angle) => angle / DEGREE - 90,
};

// ---- where everything goes ----

// the box, in barrel lengths, around all angles that the axis can have
function reach(view, low, high) {
  const box = { left: -0.3, right: 0.3, top: -0.3, bottom: 0.35 };
  for (let i = 0; i <= 48; i++) {
    const [x, y] = DIRECTIONS[view](low + ((high - low) * i) / 48);
    box.left = Math.min(box.left, x);
    box.right = Math.max(box.right, x);
    box.top = Math.min(box.top, y);
    box.bottom = Math.max(box.bottom, y);
  }
  return box;
}

function geometry(view, [low, high], width, height, labelWidth) {
  const box = reach(view, low, high);
  const margin = 14;
  const room = width - labelWidth - 2 * margin;
  const length = Math.max(
    20,
    Math.min(room / (box.right - box.left) / 1.08, (height - 2 * margin) / (box.bottom - box.top) / 1.08),
  );
  const x =
    margin - box.left * length * 1.04 + Math.max(0, (room - (box.right - box.left) * length * 1.08) / 2);
  const y = margin - box.top * length * 1.04;
  const at = (angle, radius) => {
    const [dx, dy] = DIRECTIONS[view](angle);
    return [x + dx * radius * length, y + dy * radius * length];
  };
  return { view, length, x, y, at, labelX: width - labelWidth };
}

// ---- pieces ----

const pair = ([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`;

// a band between two radii
function band(g, from, to, inner, outer, name) {
  const steps = Math.max(2, Math.ceil((to - from) / (3 * DEGREE)));
  const along = (radius, reverse) =>
    Array.from({ length: steps + 1 }, (_, i) => {
      const share = (reverse ? steps - i : i) / steps;
      return pair(g.at(from + (to - from) * share, radius));
    });
  const path = `M${along(outer, false).join('L')}L${along(inner, true).join('L')}Z`;
  return draw('path', { d: path, class: name });
}

function ray(g, angle, inner, outer, name) {
  const [x1, y1] = g.at(angle, inner);
  const [x2, y2] = g.at(angle, outer);
  return draw('line', { x1, y1, x2, y2, class: name });
}

// the barrel, drawn level and turned about the pivot
function barrel(g, name) {
  const thick = Math.max(9, g.length * 0.055);
  const body = `M${-thick * 1.2} ${-thick}L${g.length * 0.62} ${-thick * 0.62}L${g.length * 0.62} ${-thick * 0.95}
    L${g.length * 0.9} ${-thick * 0.8}L${g.length * 0.9} ${thick * 0.8}L${g.length * 0.62} ${thick * 0.95}
    L${g.length * 0.62} ${thick * 0.62}L${-thick * 1.2} ${thick}Z`;
  return draw('path', { d: body, class: name });
}

const placed = (g, angle) => `translate(${g.x} ${g.y}) rotate(${TURNS[g.view](angle)})`;

function base(g) {
  if (g.view === 'above') return draw('circle', { cx: g.x, cy: g.y, r: g.length * 0.16, class: 'mount' });
  const half = g.length * 0.16;
  return draw('path', {
    d: `M${g.x - half} ${g.y + g.length * 0.3}L${g.x - half * 0.6} ${g.y}L${g.x + half * 0.6} ${g.y}L${g.x + half} ${g.y + g.length * 0.3}Z`,
    class: 'mount',
  });
}

// ---- labels, one under the other beside the picture ----

function spread(labels, height, line) {
  const sorted = [...labels].sort((a, b) => a.y - b.y);
  let last = -Infinity;
  for (const label of sorted) {
    label.y = Math.max(label.y, last + line, line * 0.8);
    last = label.y;
  }
  let limit = height - line * 0.5;
  for (const label of sorted.reverse()) {
    label.y = Math.min(label.y, limit);
    limit = label.y - line;
  }
}

function drawLabels(g, labels, height, line, isSmall) {
  for (const label of labels) label.y = g.at(label.angle, 1)[1];
  spread(labels, height, line * 1.2);
  return labels.flatMap((label) => {
    const [x, y] = g.at(label.angle, label.radius);
    return [
      draw('path', {
        d: `M${x} ${y}L${g.labelX - 26} ${label.y}L${g.labelX - 8} ${label.y}`,
        class: 'leader',
      }),
      draw(
        'text',
        { x: g.labelX, y: label.y + line * 0.3, class: `label ${label.name ?? ''}` },
        ...texts(label, isSmall),
      ),
    ];
  });
}

// what can be hidden stands apart: the number
function texts(label, isSmall) {
  const parts = [label.text];
  if (label.number && !isSmall) parts.push(draw('tspan', { class: 'num' }, ` ${label.number}`));
  return parts;
}

// ---- the picture ----

// what one axis has: its angles on the occasion, in SI
export function axisMarks(truck, settings, axis) {
  const name = AXES[axis];
  const today = (path) => truck.value(settings, 'today', path);
  const deploy = (path) => truck.value(settings, 'deploy', path);
  const point = truck.hasPoint ? truck.value(settings, 'taught', `stow.point.${name}`) : undefined;
  return {
    axis,
    stops: truck.range(settings, name),
    home: today(`${name}.home.angle`),
    operate: today(`${name}.home.present`) === 0 ? 0 : today(`${name}.home.operate`),
    point,
    tolerance: truck.base('file', 'stow.tolerance'),
    target: truck.deploys
      ? [deploy(`deploy.target.${name}.low`), deploy(`deploy.target.${name}.high`)]
      : undefined,
    zones: truck.keepout
      .map((zone) => ({
        name: zone.name,
        from: (axis === 0 ? zone.left : zone.lower) ?? -Infinity,
        to: (axis === 0 ? zone.right : zone.upper) ?? Infinity,
      }))
      .filter((zone) => Number.isFinite(zone.from) || Number.isFinite(zone.to)),
  };
}

function bands(g, marks) {
  const [low, high] = marks.stops;
  const inside = (angle) => Math.min(high, Math.max(low, angle));
  const parts = [band(g, low, high, 0, 0.99, 'travel')];
  for (const zone of marks.zones) parts.push(band(g, inside(zone.from), inside(zone.to), 0.2, 0.93, 'zone'));
  if (marks.target)
    parts.push(band(g, inside(marks.target[0]), inside(marks.target[1]), 0.95, 1.0, 'target'));
  if (marks.operate > 0)
    parts.push(
      band(g, inside(marks.home - marks.operate), inside(marks.home + marks.operate), 0.36, 0.46, 'home'),
    );
  if (marks.point !== undefined)
    parts.push(
      band(
        g,
        inside(marks.point - marks.tolerance),
        inside(marks.point + marks.tolerance),
        0.95,
        1.0,
        'point',
      ),
      ray(g, marks.point, 0.93, 1.02, 'point-line'),
    );
  const wall = 7 * DEGREE;
  parts.push(band(g, low - wall, low, 0.16, 1.0, 'stop'), band(g, high, high + wall, 0.16, 1.0, 'stop'));
  return parts;
}

function labelsOf(marks) {
  const [low, high] = marks.stops;
  const labels = [
    { angle: low, radius: 0.9, text: stopName(marks.axis, -1), number: degrees(low, 0), always: true },
    { angle: high, radius: 0.9, text: stopName(marks.axis, 1), number: degrees(high, 0), always: true },
    { angle: marks.home, radius: 0.46, text: 'home', number: degrees(marks.home, 0), always: true },
  ];
  if (marks.point !== undefined)
    labels.push({ angle: marks.point, radius: 1.0, text: 'stow point', number: degrees(marks.point) });
  if (marks.target)
    labels.push({
      angle: (marks.target[0] + marks.target[1]) / 2,
      radius: 1.0,
      text: 'target',
      number: `${degrees(marks.target[0], 0)} to ${degrees(marks.target[1], 0)}`,
    });
  for (const zone of marks.zones) {
    const middle = (Math.max(zone.from, low) + Math.min(zone.to, high)) / 2;
    labels.push({ angle: middle, radius: 0.7, text: `keep-out: ${short(zone.name)}` });
  }
  return labels;
}

const short = (name) => (name.length > 14 ? `${name.slice(0, 13)}…` : name);

const LABEL_WIDTHS = { all: 10.6, few: 5.6, none: 0 };

// A picture in `svg` of so many pixels; { turn(angle) } moves the barrel.
// `wanted` are its labels: 'all', 'few' or 'none'.
export function drawDial(svg, marks, view, line, wanted) {
  const width = svg.clientWidth || 600;
  const height = svg.clientHeight || 300;
  const isSmall = wanted !== 'all';
  const labels = wanted === 'none' ? [] : labelsOf(marks).filter((label) => label.always || !isSmall);
  const g = geometry(view, marks.stops, width, height, line * LABEL_WIDTHS[wanted]);
  const ghost = barrel(g, 'ghost');
  if (marks.point !== undefined) ghost.setAttribute('transform', placed(g, marks.point));
  const moving = barrel(g, 'barrel');
  svg.setAttribute('viewBox', `0 0 ${width} ${height}`);
  svg.replaceChildren(
    ...bands(g, marks),
    ...drawLabels(g, labels, height, line, isSmall),
    ...(marks.point !== undefined ? [ghost] : []),
    moving,
    base(g),
    draw('circle', { cx: g.x, cy: g.y, r: Math.max(4, g.length * 0.025), class: 'pivot' }),
  );
  return { turn: (angle) => moving.setAttribute('transform', placed(g, angle)) };
}
