// shots.js PAGE.html FOLDER - every lesson at every size, to be looked at.
import { mkdirSync } from 'node:fs';
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { openBrowser, openPage, SIZES } from './browser.js';

const [file, folder] = process.argv.slice(2);
const only = process.argv[4];
mkdirSync(folder, { recursive: true });
const address = pathToFileURL(resolve(file)).href;
const { context, close } = await openBrowser();
const { page, troubles } = await openPage(context, address);
const lessons = await page.$$eval('#lesson option', (options) => options.map((option) => option.value));
for (const size of SIZES) {
  await page.setViewportSize({ width: size[0], height: size[1] });
  for (const lesson of lessons) {
    if (only && lesson !== only) continue;
    await page.selectOption('#lesson', lesson);
    await page.waitForTimeout(150);
    await page.screenshot({ path: `${folder}/${lesson}-${size.join('x')}.png`, fullPage: size[0] < 800 });
  }
}
console.log(troubles);
await close();
