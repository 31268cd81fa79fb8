// lessons.test.js - the page as a class uses it: by mouse, by keyboard, voted, compared, printed.
import assert from 'node:assert/strict';
import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { cpus, loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { drawn, makePage, openBrowser, openPage, stopClock, TOOL } from './browser.js';

const FOLDER = mkdtempSync(join(tmpdir(), 'slewtime-page-'));

let browser, address;
before(async () => {
  browser = await openBrowser({ acceptDownloads: true });
  address = makePage('examples/daily.yaml', join(FOLDER, 'daily.html'));
});
after(async () => {
  await browser.close();
  rmSync(FOLDER, { recursive: true });
});

async function onPage(work, options = {}) {
  const { page, troubles } = await openPage(browser.context, options.address ?? address, options.size);
  await work(page);
  assert.deepEqual(troubles, []);
  await page.close();
}

// a clock is the whole browser's
async function onStoppedPage(work) {
  const { context, close } = await openBrowser();
  await stopClock(context);
  const { page, troubles } = await openPage(context, address);
  await work(page);
  assert.deepEqual(troubles, []);
  await close();
}

const FRAME = 16; // of the clock that the tests move [ms]
const SPOKEN = 500; // after so long what is found is spoken [ms]
// a frame may come one later than asked for, at four times the speed
const near = (a, b) => assert.ok(Math.abs(a - b) < (4 * 2 * FRAME) / 1000, `${a}, not ${b}`);
const sentence = (page) => page.locator('.sentence').first().textContent();

// ---- by mouse and by keyboard ----

async function dragSlider(page, slider) {
  const box = await slider.boundingBox();
  await page.mouse.move(box.x + box.width * 0.5, box.y + box.height / 2);
  await page.mouse.down();
  for (let i = 0; i <= 10; i++)
    await page.mouse.move(box.x + box.width * (0.5 - 0.007 * i), box.y + box.height / 2);
  await page.mouse.up();
}

test('every lesson by mouse', () =>
  onPage(async (page) => {
    for (const lesson of await page.$$eval('#lesson option', (all) => all.map((o) => o.value))) {
      await page.selectOption('#lesson', lesson);
      const first = page.locator('#controls input, #controls select').first();
      const earlier = await page.evaluate(() => location.hash);
      if ((await first.getAttribute('type')) === 'range') await dragSlider(page, first);
      else await first.selectOption({ index: 2 });
      await drawn(page);
      assert.notEqual(
        await page.evaluate(() => location.hash),
        earlier,
        `${lesson}: the link keeps what was moved`,
      );
      assert.ok((await sentence(page)).length > 10);
      await page.click('#event-before');
      assert.notEqual(await page.textContent('#event'), '', lesson);
      await page.click('#reset');
      assert.equal(await page.evaluate(() => location.hash), earlier, lesson);
    }
  }));

async function tabTo(page, wanted) {
  for (let i = 0; i < 60; i++) {
    await page.keyboard.press('Tab');
    if (await page.evaluate((selector) => document.activeElement.matches(selector), wanted)) return;
  }
  assert.fail(`${wanted} can't be reached by keyboard`);
}

test('every lesson by keyboard', () =>
  onPage(async (page) => {
    const lessons = await page.$$eval('#lesson option', (all) => all.map((o) => o.value));
    await tabTo(page, '#lesson');
    for (const lesson of lessons) {
      if (lesson !== lessons[0]) await page.keyboard.press('ArrowDown');
      assert.equal(await page.evaluate(() => globalThis.slewtime.state.lesson), lesson);
      await tabTo(page, '#scrub');
      await page.keyboard.press('Home');
      assert.equal(await page.textContent('#clock'), '0.00 s');
      await tabTo(page, '#controls input, #controls select');
      const earlier = await page.evaluate(() => location.hash);
      const isSlider = await page.evaluate(() => document.activeElement.type === 'range');
      await page.keyboard.press(isSlider ? 'ArrowLeft' : 'ArrowUp');
      await drawn(page);
      if (!isSlider && (await page.evaluate(() => location.hash)) === earlier)
        await page.keyboard.press('ArrowDown');
      await drawn(page);
      assert.notEqual(await page.evaluate(() => location.hash), earlier, lesson);
      const outline = await page.evaluate(() => getComputedStyle(document.activeElement).outlineWidth);
      assert.equal(outline, '4px', 'focus is plain to see');
      await tabTo(page, '#lesson');
    }
  }));

test('play, pause and step by keyboard; the sentence is spoken after a run', () =>
  onStoppedPage(async (page) => {
    const time = async () => parseFloat(await page.textContent('#clock'));
    await page.focus('#scrub');
    await page.keyboard.press('Home');
    await page.selectOption('#speed', '4');
    await page.focus('#play');
    await page.keyboard.press('Enter');
    await page.clock.runFor(FRAME);
    assert.equal(await time(), 0, 'time begins with the first frame');
    await page.clock.fastForward(400);
    near(await time(), 1.6);
    await page.keyboard.press('Enter');
    await page.clock.fastForward(400);
    near(await time(), 1.6);
    for (let i = 0; i < 3; i++) await page.keyboard.press('Enter');
    await page.clock.runFor(FRAME);
    await page.clock.fastForward(400);
    near(await time(), 3.2);
    await page.keyboard.press('Enter');
    await page.focus('#event-after');
    await page.keyboard.press('Space');
    assert.equal(await page.textContent('#live'), await page.textContent('#event'));
    await page.selectOption('#lesson', 'clearance-1.5');
    await page.clock.runFor(SPOKEN);
    assert.equal(
      await page.textContent('#live'),
      'Controller reports stowed, but the barrel is jammed against its lower stop',
    );
  }));

// ---- what the lessons show ----

test('the three clearances end as the lessons tell', () =>
  onPage(async (page) => {
    const found = [];
    for (const lesson of ['clearance-0.5', 'clearance-1.5', 'clearance-4']) {
      await page.selectOption('#lesson', lesson);
      found.push(await sentence(page));
    }
    assert.match(found[0], /^Stow stops with a fault: elevation stalled on its hard stop/);
    assert.match(found[1], /^Controller reports stowed, but the barrel is jammed against its lower stop/);
    assert.doesNotMatch(found[2], /jammed|fault/);
  }));

// by lesson: what is set [V, degrees, degC or milliohms], and what is found on daily.yaml
const PRESETS = {
  'clearance-0.5': [{ '#c-clearance': 0.5 }, /elevation stalled on its hard stop/],
  'clearance-1.5': [{ '#c-clearance': 1.5 }, /jammed against its lower stop/],
  'clearance-4': [{ '#c-clearance': 4 }, /past its stow point/],
  'low-battery': [{ '#c-volts-taught': 13.6, '#c-volts-today': 11.2 }, /short of its stow point/],
  'warm-cold': [{ '#c-warmth-today': 20, '#c-warmth-deploy': -20 }, /below its deploy target/],
  'dead-sensor': [{ '#c-sensor-elevation': 'dead' }, /home not found on elevation/],
  seconds: [{ '#c-seconds': undefined }, /^Stows and deploys on target/],
  'bad-connection': [{ '#c-bad': 120 }, /^Stows and deploys on target/],
};

test('every preset is there, sets what its title says, and ends as it tells', () =>
  onPage(async (page) => {
    await page.click('#units');
    const lessons = await page.$$eval('#lesson option', (all) => all.map((o) => o.value));
    assert.deepEqual(lessons, ['free', ...Object.keys(PRESETS)]);
    for (const [lesson, [values, found]] of Object.entries(PRESETS)) {
      await page.selectOption('#lesson', lesson);
      for (const [id, wanted] of Object.entries(values)) {
        const value = await page.inputValue(id);
        if (typeof wanted === 'number')
          assert.ok(Math.abs(Number(value) - wanted) < 1e-6, `${lesson} ${id}: ${value}`);
        else if (wanted) assert.equal(value, wanted, lesson);
      }
      assert.match(await sentence(page), found, lesson);
    }
  }));

test('nothing of the result is on the page before the class has voted', () =>
  onStoppedPage(async (page) => {
    await page.selectOption('#lesson', 'clearance-1.5');
    await page.click('#predict');
    assert.equal(await sentence(page), 'What will happen?');
    const text = await page.evaluate(() => document.querySelector('main').innerText);
    for (const word of ['jammed against', 'Tell after', 'Of 100', 'Play'])
      assert.ok(!text.includes(word), word);
    await page.clock.runFor(SPOKEN);
    assert.equal(await page.textContent('#live'), 'What will happen?');
    await page.click('.vote >> nth=2');
    await page.click('.vote >> nth=2');
    assert.equal(await page.textContent('.vote >> nth=2 >> .tally'), '2');
    await page.click('#reveal');
    assert.match(await sentence(page), /jammed/);
  }));

test('A and B stand side by side, each with its own settings', () =>
  onPage(async (page) => {
    await page.selectOption('#lesson', 'clearance-1.5');
    await page.click('#compare');
    await page.fill('#c-clearance', '4');
    await drawn(page);
    const [a, b] = await page.locator('.sentence').allTextContents();
    assert.match(a, /jammed/);
    assert.doesNotMatch(b, /jammed/);
    assert.equal(await page.locator('path.curve-1').count(), 3);
    await page.click('#side-A');
    assert.equal(await page.inputValue('#c-clearance'), '1.5');
  }));

test('a hundred days are counted, and what is set holds on all of them', () =>
  onPage(async (page) => {
    const counts = () => page.locator('#days .count').allTextContents();
    const earlier = await counts();
    await page.selectOption('#lesson', 'dead-sensor');
    assert.deepEqual(await counts(), ['none', 'none', 'none', '100', '100']);
    assert.notDeepEqual(earlier, await counts());
    assert.match(await page.textContent('#days-note'), /None in 100 proves nothing about 1 in 1000/);
  }));

test('reduced motion shows three stills', async () => {
  const still = await openBrowser({ reducedMotion: 'reduce' });
  const { page } = await openPage(still.context, address);
  assert.equal(await page.locator('.dials svg').count(), 3);
  const turns = await page
    .locator('.dials svg .barrel')
    .evaluateAll((all) => all.map((b) => b.getAttribute('transform')));
  assert.equal(new Set(turns).size, 3);
  await still.close();
});

// ---- every truck ----

const EXAMPLES = readdirSync('examples').filter((name) => /^(?!seen-|wiring-).*\.yaml$/.test(name));

test('every example opens and runs every lesson that fits it', async () => {
  for (const name of EXAMPLES)
    await onPage(
      async (page) => {
        const fitting = await page.$$eval('#lesson option:not([disabled])', (all) => all.map((o) => o.value));
        assert.ok(fitting.length >= 5, name);
        for (const lesson of fitting) {
          await page.selectOption('#lesson', lesson);
          const told = await sentence(page);
          assert.doesNotMatch(told, /undefined|NaN|out of range/, `${name} ${lesson}`);
        }
      },
      { address: makePage(`examples/${name}`, join(FOLDER, `${name}.html`)) },
    );
});

test('a truck on paper without a stow is refused, and nothing is written', () => {
  const out = join(FOLDER, 'paper.html');
  const refused = spawnSync(TOOL, ['page', 'examples/wiring-on-paper.yaml', '--out', out]);
  assert.equal(refused.status, 2);
  assert.match(refused.stderr.toString(), /wiring-on-paper\.yaml:11:1: error: stow: required, but missing/);
  assert.ok(!existsSync(out));
});

// ---- links, commands, units ----

test('the link keeps every setting, and the command gives the same run', () =>
  onPage(async (page) => {
    await page.selectOption('#lesson', 'low-battery');
    await page.click('#compare');
    await page.click('#units');
    await page.focus('#c-volts-today');
    for (let i = 0; i < 7; i++) await page.keyboard.press('ArrowLeft');
    await drawn(page);
    const link = await page.evaluate(() => location.href);
    const seen = await page.evaluate(() => document.querySelector('main').innerText);
    await page.click('#open-share');
    assert.equal(await page.inputValue('#link'), link);
    const commands = await page.locator('#commands code').allTextContents();
    assert.equal(commands.length, 2);
    const words = commands[1].match(/'[^']*'|\S+/g).map((word) => word.replaceAll("'", ''));
    const theirs = JSON.parse(execFileSync(TOOL, [...words.slice(1), '--json']));
    const again = await openPage(browser.context, link);
    assert.equal(await again.page.evaluate(() => document.querySelector('main').innerText), seen);
    assert.equal(await again.page.evaluate(() => location.href), link);
    const angle = await again.page.locator('.reports').nth(1).locator('td.num').first().textContent();
    assert.equal(angle, `${theirs.stow.elevation_deg.toFixed(1)}°`.replace('-', '−'));
    await again.page.close();
  }));

test('the foot tells the hash of the scenario as the tool does', () =>
  onPage(async (page) => {
    const hash = JSON.parse(execFileSync(TOOL, ['run', 'examples/daily.yaml', '--json'])).scenario;
    assert.ok((await page.textContent('#origin')).includes(hash));
  }));

test('US or SI by a switch', () =>
  onPage(async (page) => {
    await page.selectOption('#lesson', 'warm-cold');
    assert.match(await page.textContent('#controls'), /68 °F.*−4 °F/s);
    await page.click('#units');
    assert.match(await page.textContent('#controls'), /20 °C.*−20 °C/s);
  }));

test('hidden numbers are not to be seen', () =>
  onPage(async (page) => {
    await page.click('#hide');
    const visible = await page
      .locator('.num')
      .evaluateAll((all) => all.filter((n) => n.checkVisibility({ visibilityProperty: true })).length);
    assert.equal(visible, 0);
  }));

// ---- text is text ----

test('a title, a zone and a file name with markup are texts', async () => {
  const evil = '<script>document.title="x"</script><img src=x onerror=alert(1)>';
  const yaml = readFileSync('examples/daily.yaml', 'utf8')
    .replace(/^title: .*$/m, `title: '${evil}'`)
    .replace('name: light mast', `name: '</script><b>mast</b>'`);
  const path = join(FOLDER, '<b>truck.yaml');
  writeFileSync(path, yaml);
  await onPage(
    async (page) => {
      assert.equal(await page.textContent('#title'), evil);
      assert.equal(await page.locator('#title *').count(), 0);
      assert.ok((await page.textContent('#origin')).endsWith('<b>truck.yaml'));
      assert.equal(await page.locator('img, main b').count(), 0);
    },
    { address: makePage(path, join(FOLDER, 'evil.html')) },
  );
});

// ---- the exercise ----

test('a hidden fault is found by checks that cost minutes', () =>
  onPage(async (page) => {
    await page.click('#open-exercise');
    await page.selectOption('#ex-level', '2');
    const menu = await page.locator('#ex-checks button').allTextContents();
    const minutes = (text) => Number(/(\d+) min$/.exec(text)[1]);
    await page.fill('#ex-number', '3');
    await page.press('#ex-number', 'Enter');
    await page.click('#ex-checks li:nth-child(7) button');
    const spent = minutes(menu[2]) + minutes(menu[6]);
    assert.equal(await page.textContent('#ex-clock'), `${spent} minutes`);
    assert.equal(await page.locator('#ex-readings tr').count(), 2);
    const names = await page.locator('#ex-cause option').allTextContents();
    let wrong = 0;
    for (let i = 0; i < names.length && (await page.locator('#ex-answer').isHidden()); i++) {
      await page.selectOption('#ex-cause', { index: i });
      await page.click('#ex-name');
      if (await page.locator('#ex-answer').isHidden()) wrong++;
    }
    assert.match(await page.textContent('#ex-answer'), /^Right\. It is: /);
    assert.equal(await page.textContent('#ex-clock'), `${spent + 10 * wrong} minutes`);
    assert.match(await page.textContent('#ex-answer'), /What separated the causes/);
  }));

test('the link keeps the drawn fault, the checks made and the guesses, and does not tell the fault', () =>
  onPage(async (page) => {
    await page.click('#open-exercise');
    await page.selectOption('#ex-level', '2');
    for (const number of ['4', '2']) {
      await page.fill('#ex-number', number);
      await page.press('#ex-number', 'Enter');
    }
    const hidden = () => globalThis.slewtime.exercise.hidden.name;
    const fault = await page.evaluate(hidden);
    const names = await page.locator('#ex-cause option').allTextContents();
    const alike = await page.evaluate(() => globalThis.slewtime.exercise.hidden.looks_like);
    const isRight = (text) =>
      [fault, ...alike].some((one) => text.toLowerCase().endsWith(`. ${one.toLowerCase()}`));
    await page.selectOption('#ex-cause', { index: names.findIndex((text) => !isRight(text)) });
    await page.click('#ex-name');
    const link = await page.evaluate(() => location.href);
    assert.ok(!decodeURIComponent(link).toLowerCase().includes(fault.toLowerCase()));
    const seen = (where) =>
      where.evaluate(() =>
        ['ex-clock', 'ex-symptoms', 'ex-readings', 'ex-cause'].map(
          (id) => document.getElementById(id).innerHTML,
        ),
      );
    const again = await openPage(browser.context, link);
    assert.equal(await again.page.evaluate(hidden), fault);
    assert.deepEqual(await seen(again.page), await seen(page));
    assert.equal(await again.page.evaluate(() => location.href), link);
    assert.ok(await again.page.isVisible('#exercise'));
    await again.page.keyboard.press('Escape');
    await again.page.waitForFunction(() => !location.hash.includes('open=1'));
    const closed = await openPage(browser.context, await again.page.evaluate(() => location.href));
    assert.ok(!(await closed.page.isVisible('#exercise')));
    assert.equal(await closed.page.evaluate(hidden), fault);
    assert.deepEqual([...again.troubles, ...closed.troubles], []);
    await again.page.close();
    await closed.page.close();
  }));

test('the run with every fault plays: the barrel ends where the crew saw it end', () =>
  onStoppedPage(async (page) => {
    await page.click('#open-exercise');
    const faults = await page.evaluate(
      () => globalThis.slewtime.exercise.causes.filter((cause) => !cause.healthy).length,
    );
    const turn = () => page.getAttribute('#ex-side .barrel', 'transform');
    const time = async () => parseFloat(await page.textContent('#ex-time'));
    for (let seed = 0; seed < faults; seed++) {
      await page.evaluate((number) => globalThis.slewtime.exercise.begin(number), seed);
      const atStart = await turn();
      await page.focus('#ex-scrub');
      await page.keyboard.press('End');
      const { stow, deploy, end } = await page.evaluate(() => globalThis.slewtime.exercise.motion.run);
      const last = deploy.says === 'not_run' ? stow : deploy;
      const drawnTurn = Number(/rotate\(([-\d.e]+)\)/.exec(await turn())[1]);
      const told = (last.angle[1] * 180) / Math.PI;
      assert.ok(Math.abs(drawnTurn + told) < 0.01, `${seed}: ${drawnTurn}, not ${told}`);
      await page.keyboard.press('Home');
      assert.equal(await turn(), atStart);
      await page.click('#ex-play');
      await page.clock.runFor(FRAME);
      await page.clock.fastForward(1000);
      const reached = Math.min(1, end);
      assert.ok(Math.abs((await time()) - reached) < 0.1, `${seed}: ${await time()}, not ${reached}`);
      if (end > 1.1) await page.click('#ex-play');
      assert.equal(await page.textContent('#ex-play'), 'Watch the run', `${seed}`);
      assert.ok(await page.isHidden('#ex-answer'));
    }
  }));

test('every fault that can be hidden moves as its readings tell', async () => {
  for (const name of ['daily', 'trouble-call', 'weak-magnet'])
    await onPage(
      async (page) => {
        const troubles = await page.evaluate(() => {
          const { exercise, runOf } = globalThis.slewtime;
          const at = (path) => exercise.observables.findIndex((o) => o.path === path);
          const [says, elevation] = [at('stow.says'), at('stow.elevation')];
          const words = exercise.observables[says].words.split('|').map((word) => word.trim());
          const { sd } = exercise.observables[elevation];
          return exercise.causes.flatMap((cause) =>
            cause.cases.flatMap((seen, i) => {
              const run = runOf(cause.motions[i]);
              if (run.error) return [`${cause.name}: ${run.error}`];
              const off = Math.abs(run.stow.angle[1] - seen[elevation]);
              const wrong = run.stow.says !== words[seen[says]] || (seen[elevation] !== null && off > 5 * sd);
              return wrong ? [`${cause.name} ${i}: ${run.stow.says}, ${off} rad off`] : [];
            }),
          );
        });
        assert.deepEqual(troubles, [], name);
      },
      { address: makePage(`examples/${name}.yaml`, join(FOLDER, `moves-${name}.html`)) },
    );
});

test('the levels differ: six causes, every cause, and a clock that ends it', () =>
  onPage(async (page) => {
    await page.click('#open-exercise');
    assert.equal(await page.locator('#ex-cause option').count(), 6);
    await page.selectOption('#ex-level', '3');
    assert.ok((await page.locator('#ex-cause option').count()) > 20);
    for (let i = 1; i < 30 && (await page.locator('#ex-answer').isHidden()); i++) {
      await page.fill('#ex-number', String(i));
      await page.press('#ex-number', 'Enter');
    }
    assert.match(await page.textContent('#ex-answer'), /^Time is up\. It is: /);
  }));

// ---- your truck ----

test('figures of another truck are checked as the tool checks, saved, run and opened', () =>
  onPage(async (page) => {
    await page.click('#open-own');
    const put = async (path, value) => {
      await page.fill(`[id="own-${path}"]`, value);
      await page.press(`[id="own-${path}"]`, 'Tab');
    };
    await put('elevation.stops.low', '95');
    assert.match(
      await page.textContent('#own-message'),
      /elevation\.stops\.low.* is not below elevation\.stops\.high/,
    );
    await put('elevation.gear.efficiency', '130');
    assert.match(await page.textContent('#own-message'), /out of range, for example 36 %/);
    await put('elevation.stops.low', '-22');
    await put('elevation.motor.no_load_speed', '2900');
    assert.equal(await page.textContent('#own-message'), '');
    const [download] = await Promise.all([page.waitForEvent('download'), page.click('#own-save')]);
    const saved = join(FOLDER, 'saved.yaml');
    await download.saveAs(saved);
    const theirs = JSON.parse(execFileSync(TOOL, ['run', saved, '--json']));
    const mine = await page.evaluate(() => {
      const { simulate, state } = globalThis.slewtime;
      return simulate(new Map([...state.own].map(([path, value]) => [`file.${path}`, value])));
    });
    assert.equal(mine.events.length, theirs.events.length);
    mine.events.forEach((event, i) => assert.ok(Math.abs(event.time - theirs.events[i].time_s) < 1e-9));
    await page.click('#own-reset');
    await page.setInputFiles('#own-open', saved);
    await page.locator('#own-message', { hasText: 'Opened' }).waitFor();
    assert.equal(await page.inputValue('[id="own-elevation.motor.no_load_speed"]'), '2900');
    const link = await page.evaluate(() => location.hash);
    assert.deepEqual(link.match(/own\.[a-z_.]+/g), [
      'own.elevation.stops.low',
      'own.elevation.motor.no_load_speed',
    ]);
    await page.setInputFiles('#own-open', 'examples/daily.yaml');
    await page.locator('#own-message', { hasText: 'slewtime page FILE' }).waitFor();
  }));

test('a saved truck says all that the scenario said', async () => {
  for (const name of ['daily', 'fireboat-24v', 'trouble-call', 'foam-trailer'])
    await onPage(
      async (page) => {
        await page.click('#open-own');
        const [download] = await Promise.all([page.waitForEvent('download'), page.click('#own-save')]);
        const saved = join(FOLDER, `${name}.yaml`);
        await download.saveAs(saved);
        const hash = (path) => JSON.parse(execFileSync(TOOL, ['run', path, '--json', '--quiet'])).scenario;
        assert.equal(hash(saved), hash(`examples/${name}.yaml`), name);
      },
      { address: makePage(`examples/${name}.yaml`, join(FOLDER, `${name}.html`)) },
    );
});

// ---- paper ----

const pagesOf = (pdf) => (pdf.toString('latin1').match(/\/Type\s*\/Page\b/g) ?? []).length;

test("the page prints on one sheet, the instructor's sheet on a few", () =>
  onPage(async (page) => {
    await page.selectOption('#lesson', 'clearance-1.5');
    for (const format of ['Letter', 'A4'])
      assert.equal(pagesOf(await page.pdf({ format, printBackground: true })), 1, format);
    await page.evaluate(() => {
      window.print = () => (document.body.dataset.printed = document.body.className);
    });
    await page.click('#open-share');
    await page.click('#print-sheet');
    assert.match(await page.getAttribute('body', 'data-printed'), /print-sheet/);
    const sheet = await page.textContent('#sheet');
    for (const part of [
      'Lesson plan',
      'Ask before',
      'Tell after',
      'Answers to the exercise',
      'jammed against',
    ])
      assert.ok(sheet.includes(part), part);
    await page.keyboard.press('Escape');
    await page.evaluate(() => document.body.classList.add('print-sheet'));
    const pages = pagesOf(await page.pdf({ format: 'Letter' }));
    assert.ok(pages >= 2 && pages <= 8, `${pages} pages`);
  }));

// ---- speed ----

// of the first slider dragged, in order [ms]
function scriptTimes(page) {
  return page.evaluate(async () => {
    const list = [];
    const input = document.querySelector('#controls input');
    for (let i = 0; i < 200; i++) {
      input.value = Number(input.min) + (Number(input.max) - Number(input.min)) * (0.2 + 0.003 * i);
      input.dispatchEvent(new Event('input'));
      await new Promise((next) => requestAnimationFrame(() => requestAnimationFrame(next)));
      list.push(Number(document.body.dataset.script));
    }
    return list.sort((a, b) => a - b);
  });
}

// printed, not judged: a busy machine says nothing about the page
async function printScript(page, what) {
  const times = await scriptTimes(page);
  const at = (share) => times[Math.floor(share * (times.length - 1))].toFixed(1);
  console.log(
    `script of a redraw, ${what}, on ${cpus().length} x ${cpus()[0].model}, load ${loadavg()[0].toFixed(1)}: ${at(0)} ms least, ${at(0.5)} ms median, ${at(0.95)} ms at 95 %`,
  );
  assert.equal(times.length, 200);
}

test('the script of a redraw while dragging is measured, alone and with A and B compared', () =>
  onPage(async (page) => {
    await printScript(page, 'one run');
    await page.click('#compare');
    await printScript(page, 'A and B');
  }));
