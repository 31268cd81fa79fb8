// numbers.test.js - what the page simulates is what the tool simulates, for random settings.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { makePage, openBrowser, openPage, TOOL } from './browser.js';

const SCENARIOS = [
  'daily',
  'trouble-call',
  'weak-magnet',
  'fireboat-24v',
  'reaction-arm',
  'winter-drill-24v',
];
const EACH = 40; // 200 settings altogether
const FOLDER = mkdtempSync(join(tmpdir(), 'slewtime-page-'));

let browser;
before(async () => (browser = await openBrowser()));
after(async () => {
  await browser.close();
  rmSync(FOLDER, { recursive: true });
});

// the same numbers every time (mulberry32)
function randomly(seed) {
  let a = seed;
  return () => {
    a = (a + 0x6d2b79f5) | 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

// moves some controls at random, in the page; returns the run and its command line
function moveSome(numbers) {
  const { CONTROLS, truck, put, simulate, commandLine } = globalThis.slewtime;
  const settings = new Map();
  CONTROLS.forEach((control, i) => {
    if (numbers[2 * i] < 0.45) put(settings, control, numbers[2 * i + 1]);
  });
  const run = simulate(settings);
  return {
    error: run.error,
    events: run.events,
    stow: run.stow,
    deploy: run.deploy,
    command: commandLine(truck, settings),
  };
}

function native(command, scenario) {
  const words = command.match(/'[^']*'|\S+/g).map((word) => word.replaceAll("'", ''));
  assert.deepEqual(words.slice(0, 3), ['slewtime', 'run', scenario]);
  try {
    return JSON.parse(
      execFileSync(TOOL, [...words.slice(1), '--json', '--quiet'], { stdio: ['ignore', 'pipe', 'ignore'] }),
    );
  } catch (error) {
    assert.equal(error.status, 2, command);
    return null;
  }
}

const near = (a, b, tolerance, what) =>
  assert.ok(Math.abs(a - b) <= tolerance, `${what}: ${a} in the page, ${b} by the tool`);

for (const [nth, name] of SCENARIOS.entries())
  test(`the page and the tool agree on ${EACH} settings of ${name}`, async () => {
    const scenario = `examples/${name}.yaml`;
    const { page } = await openPage(browser.context, makePage(scenario, join(FOLDER, `${name}.html`)));
    const random = randomly(nth + 1);
    let ran = 0;
    for (let i = 0; i < EACH; i++) {
      const mine = await page.evaluate(moveSome, Array.from({ length: 40 }, random));
      const theirs = native(mine.command, scenario);
      assert.equal(mine.error === undefined, theirs !== null, `${mine.error}: ${mine.command}`);
      if (theirs === null) continue;
      ran++;
      assert.deepEqual(
        mine.events.map((e) => e.kind),
        theirs.events.map((e) => e.kind),
        mine.command,
      );
      mine.events.forEach((event, k) =>
        near(event.time, theirs.events[k].time_s, 1e-9, `event ${k} of ${mine.command}`),
      );
      near((mine.stow.angle[1] * 180) / Math.PI, theirs.stow.elevation_deg, 1e-8, mine.command);
    }
    assert.ok(ran >= EACH / 2, `only ${ran} of ${EACH} settings could be run`);
    await page.close();
  });
