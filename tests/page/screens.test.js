// screens.test.js - every lesson at every size: nothing overlaps, is cut or too small; axe agrees.
import assert from 'node:assert/strict';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { makePage, openBrowser, openPage, SIZES } from './browser.js';

const FOLDER = mkdtempSync(join(tmpdir(), 'slewtime-page-'));
const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

let browser, address;
before(async () => {
  browser = await openBrowser({ bypassCSP: true }); // axe is put in by the test
  address = makePage('examples/daily.yaml', join(FOLDER, 'daily.html'));
});
after(async () => {
  await browser.close();
  rmSync(FOLDER, { recursive: true });
});

// what is wrong with the texts of the page, one line each
function findTroubles(inside) {
  const root = document.querySelector(inside);
  const walker = document.createTreeWalker(root, NodeFilter.SHOW_TEXT);
  const pieces = [];
  const troubles = [];
  const least = (innerWidth < 800 ? 16 : innerHeight / 45) - 0.01; // 24 px at 1080 lines
  while (walker.nextNode()) {
    const node = walker.currentNode;
    const parent = node.parentElement;
    const text = node.textContent.trim();
    if (
      text === '' ||
      parent.closest('option, script, style, .unseen, footer, .stays, noscript') ||
      !parent.checkVisibility({ visibilityProperty: true })
    )
      continue;
    if (inside === 'body' && parent.closest('dialog')) continue;
    const size = parseFloat(getComputedStyle(parent).fontSize);
    if (size < least) troubles.push(`${size} px: ${text}`);
    const range = document.createRange();
    range.selectNodeContents(node);
    for (const box of range.getClientRects()) {
      if (box.width < 1) continue;
      pieces.push({ box, text, node });
      if (box.left < -1 || box.right > innerWidth + 1) troubles.push(`beyond the edge: ${text}`);
      const svg = parent.closest('svg')?.getBoundingClientRect();
      if (
        svg &&
        (box.left < svg.left - 1 ||
          box.right > svg.right + 1 ||
          box.top < svg.top - 3 ||
          box.bottom > svg.bottom + 3)
      )
        troubles.push(`cut by its picture: ${text}`);
    }
  }
  for (const [i, a] of pieces.entries())
    for (const b of pieces.slice(i + 1)) {
      const x = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left);
      const y = Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top);
      if (x > 2 && y > 4 && a.node !== b.node) troubles.push(`overlap: "${a.text}" and "${b.text}"`);
    }
  for (const field of root.querySelectorAll('button, select, h1, td, th, p'))
    if (
      field.checkVisibility() &&
      field.scrollWidth > field.clientWidth + 2 &&
      getComputedStyle(field).display !== 'inline'
    )
      troubles.push(`wider than its place: ${field.textContent.slice(0, 60)}`);
  if (document.documentElement.scrollWidth > innerWidth)
    troubles.push(`page is ${document.documentElement.scrollWidth} wide`);
  return troubles;
}

async function violations(page) {
  await page.evaluate(AXE);
  const found = await page.evaluate(() => globalThis.axe.run());
  return found.violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.html.slice(0, 100)).join(' | ')}`);
}

async function lessonsOf(page) {
  return page.$$eval('#lesson option', (options) => options.map((option) => option.value));
}

for (const size of SIZES)
  test(`every lesson at ${size.join(' x ')}`, async () => {
    const { page, troubles } = await openPage(browser.context, address, size);
    for (const lesson of await lessonsOf(page)) {
      await page.selectOption('#lesson', lesson);
      assert.deepEqual(await page.evaluate(findTroubles, 'body'), [], lesson);
      for (const mode of ['#compare', '#predict', '#units']) {
        await page.click(mode);
        assert.deepEqual(await page.evaluate(findTroubles, 'body'), [], `${lesson} ${mode}`);
        await page.click(mode);
      }
    }
    assert.deepEqual(troubles, []);
    await page.close();
  });

for (const size of SIZES)
  test(`the panels at ${size.join(' x ')}`, async () => {
    const { page } = await openPage(browser.context, address, size);
    for (const panel of ['exercise', 'own', 'share']) {
      await page.click(`#open-${panel}`);
      if (panel === 'exercise')
        for (const n of ['1', '5', '9'])
          await page.fill('#ex-number', n).then(() => page.press('#ex-number', 'Enter'));
      assert.deepEqual(await page.evaluate(findTroubles, `#${panel}`), [], panel);
      assert.deepEqual(await violations(page), [], panel);
      await page.keyboard.press('Escape');
    }
    await page.close();
  });

test('axe finds nothing in any lesson, compared, predicted or with numbers hidden', async () => {
  const { page } = await openPage(browser.context, address);
  for (const lesson of await lessonsOf(page)) {
    await page.selectOption('#lesson', lesson);
    assert.deepEqual(await violations(page), [], lesson);
  }
  for (const mode of ['#compare', '#predict', '#hide']) {
    await page.click(mode);
    assert.deepEqual(await violations(page), [], mode);
    await page.click(mode);
  }
  await page.close();
});

test('at 16:9 all of a lesson is on the screen at once, the finding in the largest letters', async () => {
  for (const size of SIZES.slice(0, 2)) {
    const { page } = await openPage(browser.context, address, size);
    for (const lesson of await lessonsOf(page)) {
      await page.selectOption('#lesson', lesson);
      const seen = await page.evaluate(() => {
        const bottom = (id) => document.getElementById(id).getBoundingClientRect().bottom;
        const sizes = [...document.querySelectorAll('main *')].map((node) => [
          parseFloat(getComputedStyle(node).fontSize),
          node.className,
        ]);
        const largest = sizes.reduce((a, b) => (b[0] > a[0] ? b : a));
        return {
          bottoms: ['stages', 'time', 'days-panel'].map(bottom),
          foot: document.querySelector('footer').getBoundingClientRect().top,
          largest: largest[1],
        };
      });
      assert.equal(seen.largest, 'sentence');
      for (const bottom of seen.bottoms)
        assert.ok(bottom <= seen.foot + 1, `${lesson}: ${bottom} below ${seen.foot}`);
    }
    await page.close();
  }
});

test('three stills in place of motion at every size', async () => {
  const still = await openBrowser({ reducedMotion: 'reduce' });
  for (const size of SIZES) {
    const { page } = await openPage(still.context, address, size);
    for (const lesson of await lessonsOf(page)) {
      await page.selectOption('#lesson', lesson);
      assert.deepEqual(await page.evaluate(findTroubles, 'body'), [], `${lesson} at ${size}`);
    }
    await page.close();
  }
  await still.close();
});

test('the caution is on the screen wherever the page is scrolled to', async () => {
  for (const size of SIZES) {
    const { page } = await openPage(browser.context, address, size);
    for (const y of [0, 500, 5000]) {
      await page.evaluate((to) => scrollTo(0, to), y);
      const box = await page.locator('footer').boundingBox();
      assert.ok(box.y >= 0 && box.y + box.height <= size[1] + 1, `${size} at ${y}`);
    }
    await page.close();
  }
});
