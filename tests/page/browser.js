// browser.js - the page in Debian's chromium: opened, watched for errors and requests.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';

export const TOOL = process.env.SLEWTIME_TOOL ?? 'build/slewtime';
export const SIZES = [
  [1920, 1080],
  [1280, 720],
  [1024, 768],
  [390, 844],
];

const PATIENCE = 600000; // no machine is as slow: only what hangs takes longer [ms]
const ARGUMENTS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

// a browser with a new and empty profile of its own
export async function openBrowser(options = {}) {
  const profile = mkdtempSync(join(tmpdir(), 'slewtime-profile-'));
  const context = await chromium.launchPersistentContext(profile, {
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    headless: true,
    args: ARGUMENTS,
    viewport: { width: 1920, height: 1080 },
    timeout: PATIENCE,
    ...options,
  });
  context.setDefaultTimeout(PATIENCE);
  return {
    context,
    close: async () => {
      await context.close();
      rmSync(profile, { recursive: true, force: true });
    },
  };
}

export function makePage(scenario, out, ...more) {
  execFileSync(TOOL, ['page', scenario, '--out', out, '--quiet', ...more]);
  return pathToFileURL(out).href;
}

// a tab; SLEWTIME_THROTTLE=10 makes its processor ten times slower, as on a small or busy machine
export async function newTab(context) {
  const page = await context.newPage();
  const rate = Number(process.env.SLEWTIME_THROTTLE ?? 1);
  if (rate > 1) {
    const session = await context.newCDPSession(page);
    await session.send('Emulation.setCPUThrottlingRate', { rate });
  }
  return page;
}

// Timers and frames of all tabs come only with page.clock.runFor and fastForward.
export async function stopClock(context) {
  await context.clock.install({ time: 0 });
  await context.clock.pauseAt(1000);
}

// What was moved is drawn: a redraw waits for the next frame, where what was asked for first comes first.
export const drawn = (page) => page.evaluate(() => new Promise(requestAnimationFrame));

// A tab on the page; `troubles` collects console errors and every request but for the page itself.
export async function openPage(context, address, size = SIZES[0]) {
  const page = await newTab(context);
  const troubles = [];
  page.on('console', (message) => message.type() === 'error' && troubles.push(message.text()));
  page.on('pageerror', (error) => troubles.push(error.stack));
  page.on('request', (request) => {
    const url = request.url();
    if (url.split('#')[0] !== address.split('#')[0] && !/^(data|blob):/.test(url))
      troubles.push(`request: ${url}`);
  });
  await page.setViewportSize({ width: size[0], height: size[1] });
  await page.goto(address);
  await page.waitForFunction(() => globalThis.slewtime !== undefined);
  return { page, troubles };
}
