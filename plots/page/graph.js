// graph.js - angle, voltage and current against time, with a cursor.
import { draw } from './dom.js';
import { SAMPLE_FIGURES } from './machine.js';
import { fixed } from './units.js';
import { AXES } from './words.js';

const DEGREE = Math.PI / 180;

// the figures of a sample
const VOLTAGE = 7;
const read = {
  angle: (samples, at, axis) => samples[at + 1 + axis] / DEGREE,
  voltage: (samples, at) => samples[at + VOLTAGE],
  current: (samples, at) => samples[at + 5] + samples[at + 6],
};

// round steps: about `count` of them between low and high
function steps(low, high, count) {
  const rough = (high - low) / count;
  const size = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].find((n) => n * size >= rough) * size;
  const list = [];
  for (let v = Math.ceil(low / step) * step; v <= high + 1e-9; v += step) list.push(v);
  return list;
}

// where the panels lie: top and bottom of each, of the whole height
function layout(width, height, line) {
  const left = line * 7.3;
  const bottom = height - line * 1.5;
  const gap = line * 0.55;
  const rest = bottom - line * 0.5 - 2 * gap;
  const tops = [line * 0.5];
  const sizes = [rest * 0.46, rest * 0.27, rest * 0.27];
  tops.push(tops[0] + sizes[0] + gap);
  tops.push(tops[1] + sizes[1] + gap);
  return { left, right: width - line * 0.8, bottom, tops, sizes };
}

function curve(run, count, x, y, figure, axis) {
  const parts = [];
  for (let i = 0; i < count; i++) {
    const at = i * SAMPLE_FIGURES;
    parts.push(`${x(run.samples[at]).toFixed(1)} ${y(figure(run.samples, at, axis)).toFixed(1)}`);
  }
  return `M${parts.join('L')}`;
}

function extremes(runs, figure, axis) {
  let low = Infinity;
  let high = -Infinity;
  for (const run of runs)
    for (let i = 0; i < run.sampleCount; i++) {
      const value = figure(run.samples, i * SAMPLE_FIGURES, axis);
      low = Math.min(low, value);
      high = Math.max(high, value);
    }
  return [low, high];
}

// a low panel is named by its unit alone
function frame(l, panel, unit, name) {
  const top = l.tops[panel];
  const size = l.sizes[panel];
  const isLow = size < l.text * 2.6;
  const middle = top + size / 2;
  const texts = isLow
    ? [
        draw(
          'text',
          { x: 0, y: middle + l.text * 0.35, class: 'label' },
          `${unit.charAt(0).toUpperCase()}${unit.slice(1)}`,
        ),
      ]
    : [
        draw('text', { x: 0, y: middle - 2, class: 'label' }, name),
        draw('text', { x: 0, y: middle + l.text, class: 'label faint' }, unit),
      ];
  return [
    draw('rect', { x: l.left, y: top, width: l.right - l.left, height: size, class: 'frame' }),
    ...texts,
  ];
}

// a number at the edge of its panel keeps clear of its neighbors
function inside(l, panel, y, lineHeight) {
  const half = lineHeight * 0.45;
  return Math.min(Math.max(y, l.tops[panel] + half), l.tops[panel] + l.sizes[panel] - half);
}

function panelTicks(l, panel, y, low, high, lineHeight) {
  const room = Math.max(1, Math.floor(l.sizes[panel] / (lineHeight * 1.5)));
  return steps(low, high, room).map((value) =>
    draw(
      'text',
      {
        x: l.left - 8,
        y: inside(l, panel, y(value), lineHeight) + lineHeight * 0.32,
        class: 'label number num',
      },
      fixed(value, 0),
    ),
  );
}

function scaleOf(l, panel, low, high) {
  return (value) => l.tops[panel] + l.sizes[panel] * (1 - (value - low) / (high - low));
}

function level(l, y, name) {
  return draw('line', { x1: l.left, x2: l.right, y1: y, y2: y, class: name });
}

function shade(l, y, from, to, name) {
  return draw('rect', {
    x: l.left,
    width: l.right - l.left,
    y: y(to),
    height: Math.max(1, y(from) - y(to)),
    class: name,
  });
}

function angleMarks(l, y, marks) {
  const d = (angle) => angle / DEGREE;
  const parts = [];
  if (marks.target) parts.push(shade(l, y, d(marks.target[0]), d(marks.target[1]), 'target'));
  if (marks.point !== undefined)
    parts.push(
      shade(
        l,
        y,
        Math.max(d(marks.point - marks.tolerance), d(marks.stops[0])),
        d(marks.point + marks.tolerance),
        'point',
      ),
    );
  return parts;
}

// Draws one or two runs (the second dashed); { cursor(time) } moves the cursor.
export function drawGraph(svg, runs, marks, minimum, lineHeight) {
  const width = svg.clientWidth || 600;
  const height = svg.clientHeight || 240;
  const l = { ...layout(width, height, lineHeight), text: lineHeight };
  const end = Math.max(...runs.map((run) => run.end), 1);
  const x = (time) => l.left + ((l.right - l.left) * time) / end;
  const [low, high] = marks.stops.map((angle) => angle / DEGREE);
  const room = (high - low) * 0.06;
  const volts = extremes(runs, read.voltage);
  const vLow = Math.floor(Math.min(volts[0], minimum) - 0.5);
  const vHigh = Math.ceil(volts[1] + 0.2);
  const aHigh = Math.ceil(extremes(runs, read.current)[1] * 1.1 + 1);
  const ys = [scaleOf(l, 0, low - room, high + room), scaleOf(l, 1, vLow, vHigh), scaleOf(l, 2, 0, aHigh)];
  const cursor = draw('line', { y1: l.tops[0], y2: l.bottom, class: 'cursor' });
  const figures = [read.angle, read.voltage, read.current];
  svg.setAttribute('viewBox', `0 0 ${width} ${height}`);
  svg.replaceChildren(
    ...frame(l, 0, 'degrees', AXES[marks.axis] === 'elevation' ? 'Elevation' : 'Rotation'),
    ...frame(l, 1, 'volts', 'Voltage'),
    ...frame(l, 2, 'amps', 'Current'),
    ...angleMarks(l, ys[0], marks),
    shade(l, ys[0], high, high + room, 'stop'),
    shade(l, ys[0], low - room, low, 'stop'),
    level(l, ys[1](minimum), 'minimum'),
    ...panelTicks(l, 0, ys[0], low, high, lineHeight),
    ...panelTicks(l, 1, ys[1], vLow, vHigh, lineHeight),
    ...panelTicks(l, 2, ys[2], 0, aHigh, lineHeight),
    ...timeTicks(l, x, end, lineHeight),
    ...runs.flatMap((run, n) =>
      figures.map((figure, panel) =>
        draw('path', {
          d: curve(run, run.sampleCount, x, ys[panel], figure, marks.axis),
          class: `curve curve-${n}`,
        }),
      ),
    ),
    cursor,
  );
  return {
    cursor: (time) => {
      cursor.setAttribute('x1', x(Math.min(time, end)));
      cursor.setAttribute('x2', x(Math.min(time, end)));
    },
  };
}

function timeTicks(l, x, end, lineHeight) {
  const list = steps(0, end, Math.max(2, Math.floor((l.right - l.left) / (lineHeight * 5))));
  return list.map((time) =>
    draw(
      'text',
      { x: x(time), y: l.bottom + lineHeight * 1.2, class: 'label middle num' },
      time === list.at(-1) ? `${fixed(time, 0)} s` : fixed(time, 0),
    ),
  );
}
