// sheet.js - the instructor's sheet: lesson plan and answers, for the printer.
import { byId, el } from './dom.js';
import { bandReading, labelled, readingText, speaksAgainst } from './exercise.js';
import { finding } from './outcome.js';
import { capital } from './words.js';

// the checks that set a fault off from a healthy truck most plainly
function telling(exercise, cause, system) {
  return exercise.checks
    .filter(({ observable, index }) =>
      speaksAgainst(observable, cause.cases[0][index], exercise.healthy.reads[index]),
    )
    .slice(0, 3)
    .map(
      ({ observable, index, text }) =>
        `${labelled(text, readingText(observable, cause.cases[0][index], system))} (healthy ${bandReading(observable, exercise.healthy.reads[index], system)})`,
    );
}

function lessonPart(lesson, seen) {
  return el(
    'section',
    { class: 'plan' },
    el('h3', {}, lesson.title),
    el('p', {}, el('strong', {}, 'Ask before: '), lesson.ask),
    el('p', {}, el('strong', {}, 'They see: '), seen),
    el('p', {}, el('strong', {}, 'Tell after: '), lesson.tell),
  );
}

function answerRow(exercise, cause, system) {
  const tells = telling(exercise, cause, system);
  return el(
    'tr',
    {},
    el('th', { scope: 'row' }, capital(cause.name)),
    el('td', {}, tells.length > 0 ? tells.join('; ') : 'no check sets it off'),
    el('td', {}, cause.cure),
  );
}

// `run(lesson)` simulates a lesson as it begins: { settings, run }
export function drawSheet(truck, state, lessons, exercise, run) {
  const causes = exercise.causes.filter((cause) => !cause.healthy);
  byId('sheet').replaceChildren(
    el('h2', {}, "Instructor's sheet"),
    el(
      'p',
      {},
      `${truck.title}. Scenario ${truck.data.scenario}, slewtime ${truck.data.slewtime}. Simulated: it does not replace a test on the truck.`,
    ),
    el('h2', {}, 'Lesson plan'),
    el(
      'p',
      {},
      'For each lesson: ask, let the class vote (Predict first), show, tell. Keep people clear of a real monitor; disconnect and lock out power before any work on it.',
    ),
    ...lessons.map((lesson) => {
      const { settings, result } = run(lesson);
      return lessonPart(lesson, `${finding(truck, settings, result).sentence}.`);
    }),
    el('h2', {}, 'Answers to the exercise'),
    el(
      'table',
      {},
      el(
        'thead',
        {},
        el(
          'tr',
          {},
          ...['Cause', 'What gives it away', 'Cure'].map((text) => el('th', { scope: 'col' }, text)),
        ),
      ),
      el('tbody', {}, ...causes.map((cause) => answerRow(exercise, cause, state.system))),
    ),
  );
}
