// shot.js PAGE.html OUT.png WIDTHxHEIGHT [HASH] [SELECTOR ...] - one picture, after clicking.
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { openBrowser, openPage } from './browser.js';

const [file, out, size, hash, ...clicks] = process.argv.slice(2);
const { context, close } = await openBrowser({
  reducedMotion: process.env.STILL ? 'reduce' : 'no-preference',
});
const { page, troubles } = await openPage(
  context,
  pathToFileURL(resolve(file)).href + (hash ?? ''),
  size.split('x').map(Number),
);
for (const selector of clicks) await page.click(selector);
await page.waitForTimeout(300);
if (process.env.GREY) await page.addStyleTag({ content: 'html { filter: grayscale(1); }' });
await page.screenshot({ path: out, fullPage: Boolean(process.env.FULL) });
console.log(troubles, await page.evaluate(() => document.body.dataset.script));
await close();
