// report.test.js - the report for the customer: read on screens, printed on Letter and A4.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { pathToFileURL } from 'node:url';
import { newTab, openBrowser, SIZES, TOOL } from './browser.js';

const FOLDER = mkdtempSync(join(tmpdir(), 'slewtime-report-'));
const FILE = join(FOLDER, 'truck.html');
const AXE = createRequire(import.meta.url).resolve('axe-core/axe.min.js');

let browser;
before(async () => {
  browser = await openBrowser();
  execFileSync(TOOL, ['report', 'examples/daily.yaml', '--out', FILE, '--quiet']);
});
after(async () => {
  await browser.close();
  rmSync(FOLDER, { recursive: true });
});

// a tab on the report; whatever it complains of or asks for ends the test
async function onReport(work, size = SIZES[0]) {
  const page = await newTab(browser.context);
  const troubles = [];
  page.on('console', (message) => message.type() === 'error' && troubles.push(message.text()));
  page.on('pageerror', (error) => troubles.push(error.stack));
  page.on('request', (request) => request.url().startsWith('file:') || troubles.push(request.url()));
  await page.setViewportSize({ width: size[0], height: size[1] });
  await page.goto(pathToFileURL(FILE).href);
  await work(page);
  assert.deepEqual(troubles, []);
  await page.close();
}

test('it is small enough for a mail', () => {
  assert.ok(statSync(FILE).size < 2e6, `${statSync(FILE).size} bytes`);
});

for (const size of SIZES)
  test(`nothing is cut at ${size.join(' x ')}, and it reads aloud`, () =>
    onReport(async (page) => {
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      assert.ok(wide <= 0, `${wide} px too wide`);
      const spilled = await page.$$eval('main th, main td, main p, main li', (all) =>
        all.filter((e) => e.scrollWidth > e.clientWidth + 1).map((e) => e.textContent),
      );
      assert.deepEqual(spilled, []);
      await page.addScriptTag({ path: AXE });
      const found = await page.evaluate(() => globalThis.axe.run());
      assert.deepEqual(
        found.violations.map((v) => `${v.id}: ${v.nodes[0].html}`),
        [],
      );
    }, size));

test('the numbers are those of the tool', () =>
  onReport(async (page) => {
    const plan = JSON.parse(
      execFileSync(TOOL, ['plan', 'examples/daily.yaml', '--json', '--quiet'], { encoding: 'utf8' }),
    );
    const share = (demand, met) => {
      const missed = 100 * plan.today.demands[demand].missed.share;
      return `${(met ? 100 - missed : missed).toFixed(2)} %`;
    };
    const text = await page.textContent('.page-one table');
    for (const [demand, met] of [
      ['keepout_entered', false],
      ['hard_stop', false],
      ['deploy_inside', true],
      ['stow_on_target', true],
      ['below_floor', false],
    ])
      assert.ok(text.includes(share(demand, met)), `${demand}: ${share(demand, met)} in ${text}`);
    assert.equal(await page.locator('.days i').count(), 100);
  }));

test('pictures have titles, and no two elements one name', () =>
  onReport(async (page) => {
    const titles = await page.$$eval('figure svg', (all) =>
      all.map((svg) => svg.querySelector('title')?.textContent ?? ''),
    );
    assert.equal(titles.length, 7);
    for (const title of titles) assert.ok(title !== '' && title !== 'Gnuplot', title);
    const twice = await page.$$eval('[id]', (all) => {
      const ids = all.map((e) => e.id);
      return ids.filter((id, i) => ids.indexOf(id) !== i);
    });
    assert.deepEqual(twice, []);
  }));

test('no key path before the appendix', () =>
  onReport(async (page) => {
    const text = await page.evaluate(() => {
      document.querySelector('.appendix').remove();
      return document.querySelector('main').innerText;
    });
    assert.doesNotMatch(text, /\b(supply|rotation|elevation|stow|deploy|controller)\.[a-z_]+/);
  }));

for (const format of ['Letter', 'A4'])
  test(`printed on ${format} no page is empty, and page one has the verdict and the pose`, () =>
    onReport(async (page) => {
      const file = join(FOLDER, `${format}.pdf`);
      await page.emulateMedia({ media: 'print' });
      writeFileSync(file, await page.pdf({ format, preferCSSPageSize: false, printBackground: true }));
      const pages = execFileSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' }).split('\f');
      assert.equal(pages.pop(), '');
      assert.ok(pages.length > 5 && pages.length < 20, `${pages.length} pages`);
      for (const [i, text] of pages.entries()) assert.ok(text.trim().length > 40, `page ${i + 1}`);
      assert.match(pages[0], /Does not meet its demands/);
      assert.match(pages[0], /Where the barrel rests/);
      assert.ok(readFileSync(file).length > 10000);
      await page.emulateMedia({ media: 'screen' });
    }));
