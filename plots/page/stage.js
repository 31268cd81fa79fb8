// stage.js - one run on the screen: its finding, the barrel, the close-up, what is reported and true.
import { el, draw } from './dom.js';
import { axisMarks, drawDial } from './dial.js';
import { drawLens } from './lens.js';
import { SAMPLE_FIGURES } from './machine.js';
import { finding, isAboutStow, reportRows, ROLE_WORDS } from './outcome.js';
import { AXES } from './words.js';

// the angle of an axis at a time
export function angleAt(run, axis, time) {
  const { samples, sampleCount } = run;
  let low = 0;
  let high = sampleCount - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (samples[middle * SAMPLE_FIGURES] <= time) low = middle;
    else high = middle;
  }
  const a = low * SAMPLE_FIGURES;
  const b = high * SAMPLE_FIGURES;
  const span = samples[b] - samples[a];
  const share = span > 0 ? Math.min(1, Math.max(0, (time - samples[a]) / span)) : 1;
  return samples[a + 1 + axis] * (1 - share) + samples[b + 1 + axis] * share;
}

const picture = (name, label) => draw('svg', { class: name, role: 'img', 'aria-label': label });

export class Stage {
  constructor(letter) {
    this.letter = letter;
    this.sentence = el('p', { class: 'sentence' });
    this.role = el('span', { class: 'role' });
    this.finding = el('div', { class: 'finding' }, this.role, this.sentence);
    this.dials = el('div', { class: 'dials' });
    this.lens = picture('lens', 'Close-up at the stop');
    this.lensWords = el('p', { class: 'caption' });
    this.reports = el('table', { class: 'reports' });
    this.views = el(
      'div',
      { class: 'views' },
      this.dials,
      el('div', { class: 'lens-box' }, this.lensWords, this.lens),
    );
    this.moving = [];
  }

  // what has to be drawn anew when a setting changes
  show(truck, settings, run, options) {
    this.run = run;
    this.tell(truck, settings, run, options);
    this.drawReports(reportRows(truck, settings, run), options);
    this.drawViews(truck, settings, run, options);
  }

  tell(truck, settings, run, { hidden, compare }) {
    const told = hidden ? { sentence: 'What will happen?', role: 'asked' } : finding(truck, settings, run);
    this.sentence.textContent = told.sentence;
    this.role.textContent = (compare ? `${this.letter}: ` : '') + (ROLE_WORDS[told.role] ?? 'Predict');
    this.finding.className = `finding ${told.role}`;
    this.told = told;
  }

  // as many columns as there is room for; narrow ones have shorter heads, and no row without angles
  drawReports(all, { hidden, line }) {
    const room = this.views.clientWidth / line;
    const angles = room > 30 ? 2 : room > 24 ? 1 : 0;
    const heads = ['', angles > 1 ? 'Controller reports' : 'Reports', 'True', 'Elevation', 'Rotation'].slice(
      0,
      3 + angles,
    );
    const rows = angles > 1 ? all : all.filter((row) => row.part !== 'Keep-out');
    const head = el(
      'tr',
      {},
      ...heads.map((text) => (text === '' ? el('td') : el('th', { scope: 'col' }, text))),
    );
    const cell = (text, name = '') => el('td', { class: name }, hidden ? '?' : text);
    const lines = rows.map((row) =>
      el(
        'tr',
        {},
        el('th', { scope: 'row' }, row.part),
        cell(row.says),
        cell(row.truth, hidden ? '' : row.role),
        ...row.at.slice(0, angles).map((text) => cell(text, 'num')),
      ),
    );
    this.reports.replaceChildren(el('thead', {}, head), el('tbody', {}, ...lines));
  }

  drawViews(truck, settings, run, { axes, hidden, stills, line }) {
    this.dials.className = `dials ${stills ? 'stills' : ''}`;
    this.moving = [];
    const marks = axes.map((axis) => axisMarks(truck, settings, axis));
    const wanted =
      stills && !run.error ? stillsOf(run, truck, axes[0], hidden) : axes.map((axis) => ({ axis }));
    this.fit(wanted);
    wanted.forEach((view, i) => {
      const own = marks.find((m) => m.axis === view.axis);
      const dial = drawDial(
        this.dials.children[i].lastChild,
        own,
        view.axis === 1 ? 'side' : 'above',
        line,
        i > 0 && stills ? 'none' : wanted.length > 1 ? 'few' : 'all',
      );
      if (view.time !== undefined) dial.turn(angleAt(run, view.axis, view.time));
      else this.moving.push({ axis: view.axis, turn: dial.turn });
    });
    const rest = run.error || hidden ? undefined : run.stow.angle[axes[0]];
    this.moving.push({ axis: axes[0], turn: drawLens(this.lens, this.lensWords, marks[0], rest).turn });
  }

  // as many pictures as are wanted
  fit(wanted) {
    const names = wanted.map((view) => view.title ?? (view.axis === 1 ? 'Side view' : 'From above'));
    if (names.join() === this.names) return;
    this.names = names.join();
    this.dials.replaceChildren(
      ...names.map((name) => el('figure', {}, el('figcaption', {}, name), picture('dial', name))),
    );
  }

  setTime(time) {
    if (this.run.error) return;
    for (const { axis, turn } of this.moving) turn(angleAt(this.run, axis, time));
  }
}

// three instants in place of motion
function stillsOf(run, truck, axis, hidden) {
  const stowed = run.events.find((event) => event.kind === 'done' || event.kind === 'fault');
  const list = [
    { axis, time: 0, title: `${AXES[axis] === 'elevation' ? 'Side view' : 'From above'}: start` },
  ];
  if (!hidden) list.push({ axis, time: restAfter(run, stowed), title: 'after the stow' });
  if (!hidden && truck.deploys) list.push({ axis, time: run.end, title: 'after the deploy' });
  return list;
}

// where the finding can be seen: at rest after the stow, if it is about that
export function tellingTime(run) {
  if (!isAboutStow(run)) return run.end;
  return restAfter(
    run,
    run.events.find((event) => event.kind === 'done'),
  );
}

// what was reported comes a moment before the axis is at rest
function restAfter(run, event) {
  if (!event) return run.end;
  const next = run.events.findIndex((e) => e.time > event.time && e.kind === 'drive_on');
  return next > 0 ? run.events[next - 1].time : run.end;
}
