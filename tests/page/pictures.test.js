// pictures.test.js - every picture of every example as an SVG in the browser: it says what it shows,
// nothing of it is clipped, no text stands on another, and on a slide all of them are large.
import assert from 'node:assert/strict';
import { execFile } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { promisify } from 'node:util';
import { newTab, openBrowser, TOOL } from './browser.js';

const run = promisify(execFile);
const DAILY = 'examples/daily.yaml';
const MEASURED = ['examples/stopwatch.csv', '--key', 'elevation.gear.efficiency'];
const WEAK = ['--beside', 'weak battery', '--today', 'supply.main.voltage=11.4 V'];
const DEAD = ['--beside', 'dead sensor', '--today', 'elevation.home.present=no'];
const VOLTS = ['--vary', 'today.supply.main.voltage=9V:15V:12'];
const POINTS = ['--vary', 'stow.point.elevation=-16deg:-4deg:8'];
const LEAST_TEXT = 0.035; // of a slide's height

// words that no picture has, and what looks like the path of a key or a raw word of JSON
const WORDS_FILE = readFileSync('tests/cli/picture_words.h', 'utf8');
const WORDS = [...WORDS_FILE.matchAll(/"([^"\n]+)"/g)].map(([, word]) => word);
const AVOIDED = new RegExp(`(?<![\\w.])(?:${WORDS.join('|')})(?!\\w)`, 'i');
const A_PATH = /[a-z]_[a-z]|[a-z]\.(?!csv|yaml)[a-z]/;

const examples = readdirSync('examples')
  .filter((name) => name.endsWith('.yaml') && !name.startsWith('seen-'))
  .map((name) => `examples/${name}`);

// the arguments of every picture but its file; --pose and --plot write it
const asked = examples.flatMap((example) => [
  ['--plot', 'run', example],
  ['--pose', 'run', example],
  ['--plot', 'compare', example, ...WEAK, ...DEAD],
  ['--pose', 'compare', example, ...WEAK],
  ['--plot', 'offset', example, '--samples', '64'],
  ['--plot', 'plan', example, '--samples', '64'],
  ['--plot', 'margin', example, '--samples', '64'],
  ['--plot', 'map', example, ...VOLTS],
  ['--plot', 'map', example, ...POINTS, ...VOLTS],
  ['--plot', 'feed', example],
  ['--plot', 'speed', example],
  ['--plot', 'nozzle', example],
  ['--plot', 'window', example],
  ['--plot', 'card', example, '--samples', '64'],
  ['--plot', 'causes', example, '--samples', '16'],
]);
asked.push(
  ['--plot', 'fit', DAILY, ...MEASURED],
  ['--pose', 'run', DAILY, '--samples', '64'],
  ['--plot', 'compare', ...['enough', 'pressed', 'faults'].map((w) => `examples/clearance-${w}.yaml`)],
  ['--plot', 'window', 'examples/weak-magnet.yaml', '--axis', 'rotation', '--tolerance', 'gap=0.3mm'],
);
for (const seen of ['falls-short', 'home-not-found', 'nothing-fits'])
  asked.push([
    ...['--plot', 'causes', 'examples/trouble-call.yaml', '--samples', '32'],
    ...['--seen', `examples/seen-${seen}.yaml`],
  ]);

let browser, page, folder;
before(async () => {
  folder = mkdtempSync(join(tmpdir(), 'slewtime-pictures-'));
  browser = await openBrowser();
  page = await newTab(browser.context);
});
after(async () => {
  await browser.close();
  rmSync(folder, { recursive: true });
});

// the pictures of a kind that can be drawn at all; what refuses to be asked has none
async function drawAll(more) {
  const left = asked.map((words, index) => ({ words, file: join(folder, `${index}.svg`) }));
  const drawn = [];
  const work = async () => {
    for (let next = left.shift(); next !== undefined; next = left.shift()) {
      const [option, command, ...rest] = next.words;
      const words = [command, ...rest, '--quiet', option, next.file, ...more];
      try {
        await run(TOOL, words, { maxBuffer: 1e8 });
        drawn.push({ ...next, name: words.slice(0, -2 - more.length).join(' ') });
      } catch (failure) {
        assert.doesNotMatch(failure.stderr, /gnuplot/, words.join(' '));
      }
    }
  };
  await Promise.all(cpus().map(work));
  return drawn;
}

// in the browser: the boxes of all texts in the picture's own pixels, its size, and its words
function measure() {
  const svg = document.querySelector('svg');
  const { width, height } = svg.viewBox.baseVal;
  const scale = svg.getBoundingClientRect().width / width;
  const texts = [...svg.querySelectorAll('text')].filter((text) => text.textContent.trim() !== '');
  return {
    width,
    height,
    title: svg.querySelector('title').textContent,
    description: svg.querySelector('desc').textContent,
    titles: svg.querySelectorAll('title').length,
    texts: texts.map((text) => {
      const box = text.getBoundingClientRect();
      const size = Number.parseFloat(getComputedStyle(text).fontSize);
      return {
        text: text.textContent.trim(),
        size,
        upright: box.width < box.height && text.textContent.length > 2,
        left: box.left / scale,
        right: box.right / scale,
        top: box.top / scale,
        bottom: box.bottom / scale,
      };
    }),
  };
}

// gnuplot writes a text in a box twice
const isTwice = (a, b) => a.text === b.text && Math.hypot(a.left - b.left, a.top - b.top) < 1;

// how far the letters of two texts reach into each other; a line's own height is more than theirs
function overlap(a, b) {
  const slackA = a.upright ? 0 : 0.2 * a.size;
  const slackB = b.upright ? 0 : 0.2 * b.size;
  const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
  const down = Math.min(a.bottom - slackA, b.bottom - slackB) - Math.max(a.top + slackA, b.top + slackB);
  return across > 1 && down > 1 ? Math.min(across, down) : 0;
}

function faultsOf(picture, isSlide) {
  const { width, height, texts } = picture;
  const faults = [];
  for (const [i, one] of texts.entries()) {
    if (one.left < 0 || one.top < 0 || one.right > width || one.bottom > height)
      faults.push(`clipped: ${one.text}`);
    if (isSlide && one.size < LEAST_TEXT * height) faults.push(`small: ${one.text}`);
    for (const other of texts.slice(i + 1))
      if (!isTwice(one, other) && overlap(one, other) > 0)
        faults.push(`one on another: ${one.text} | ${other.text}`);
  }
  if (isSlide && (width !== 1920 || height !== 1080)) faults.push(`${width} x ${height}`);
  if (isSlide && texts.some(({ text }) => /scenario [0-9a-f]{16}/.test(text))) faults.push('a hash');
  if (/gnuplot/i.test(picture.title + picture.description) || picture.title.length < 8)
    faults.push(`title: ${picture.title}`);
  const said = [picture.title, picture.description, ...texts.map(({ text }) => text)];
  for (const text of said)
    if (AVOIDED.test(text) || A_PATH.test(text)) faults.push(`a word not to use: ${text}`);
  if (picture.titles !== 1) faults.push(`${picture.titles} titles`);
  if (picture.description.length < 30) faults.push(`description: ${picture.description}`);
  return faults;
}

async function check(more) {
  const drawn = await drawAll(more);
  assert.ok(drawn.length > 0.8 * asked.length, `${drawn.length} of ${asked.length} are drawn`);
  const faults = [];
  for (const { name, file } of drawn) {
    await page.setContent(readFileSync(file, 'utf8').replace(/^<\?xml[^>]*>/, ''));
    const picture = await page.evaluate(measure);
    for (const fault of faultsOf(picture, more.length > 0)) faults.push(`${name}: ${fault}`);
  }
  assert.equal(faults.length, 0, `\n${faults.join('\n')}`);
}

test('sheets: nothing clipped, no text on another, plain words', () => check([]));
test('slides: the same, large and without a hash', () => check(['--slide']));
