// Looks at every page of a site, light and dark, on a phone, on a desk and as print: no finding of the accessibility checker, no
// request to a network, nothing wider than the screen, every link leading somewhere, no row cut on paper, all of it there
// without scripts.
import { readdirSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { chromium } from 'playwright-core';

const site = process.argv[2];
const checker = await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const pages = readdirSync(site).filter((name) => name.endsWith('.html')).sort();
const faults = [];
const fault = (where, what) => faults.push(`${where}: ${what}`);
if (pages.length < 5) fault(site, `only ${pages.length} pages`);

const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM,
  args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
    '--disable-component-update', '--disable-sync'],
});

// Opens a page and gives it to `look`; tells of any request but the page itself.
async function open(name, options, look) {
  const context = await browser.newContext({ bypassCSP: true, ...options });
  const page = await context.newPage();
  const address = new URL(`file://${join(site, name)}`).href;
  const where = `${name} (${options.viewport.width} px, ${options.colorScheme ?? 'light'})`;
  page.on('request', (request) => {
    const url = request.url();
    if (url !== address && !url.startsWith('data:')) fault(where, `asks for ${url}`);
  });
  page.on('pageerror', (error) => fault(where, `error ${error.message}`));
  page.on('console', (message) => { if (message.type() === 'error') fault(where, `console: ${message.text()}`); });
  await page.goto(address);
  await look(page, where);
  await context.close();
}

for (const name of pages) {
  for (const colorScheme of ['light', 'dark']) {
    for (const width of [360, 820, 1280]) {
      await open(name, { viewport: { width, height: 800 }, colorScheme }, async (page, where) => {
        const wide = await page.evaluate(() => document.documentElement.scrollWidth);
        if (wide > width) fault(where, `is ${wide} px wide`);
        await page.evaluate(() => document.querySelectorAll('details').forEach((one) => { one.open = true; }));
        const opened = await page.evaluate(() => document.documentElement.scrollWidth);
        if (opened > width) fault(where, `is ${opened} px wide with everything open`);
        if (width === 820) return;
        await page.evaluate(checker);
        const found = await page.evaluate(() => axe.run(document, { resultTypes: ['violations'] }));
        for (const violation of found.violations) {
          const places = violation.nodes.slice(0, 3).map((node) => node.html.slice(0, 160)).join('\n      ');
          fault(where, `${violation.id}: ${violation.help} (${violation.nodes.length})\n      ${places}`);
        }
      });
    }
  }

  // Without scripts: the answer and the picture are there, and every link leads to a page or a place on one.
  await open(name, { viewport: { width: 1280, height: 800 }, javaScriptEnabled: false }, async (page, where) => {
    const text = await page.locator('main').innerText();
    if (text.trim().length < 40) fault(where, 'says nothing without scripts');
    if (await page.locator('script').count()) fault(where, 'has a script');
    for (const link of await page.locator('a[href]').all()) {
      const href = await link.getAttribute('href');
      const [file, place] = href.split('#');
      if (file !== '' && !pages.includes(file)) fault(where, `links to ${href}`);
      if (file === '' && !(await page.locator(`[id="${place}"]`).count())) fault(where, `links to ${href}`);
    }
    for (const picture of await page.locator('svg[role=img]').all()) {
      const named = await picture.locator('title').count() && await picture.locator('desc').count();
      if (!named) fault(where, 'has a picture without words');
    }
  });

  // As print: no dark ground, and no row, picture or answer that may be cut.
  await open(name, { viewport: { width: 720, height: 1000 }, colorScheme: 'dark' }, async (page, where) => {
    await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
    const seen = await page.evaluate(() => {
      const style = (element) => getComputedStyle(element);
      const cut = [...document.querySelectorAll('tr, figure, .answer')].filter((one) => style(one).breakInside !== 'avoid');
      return { ground: style(document.body).backgroundColor, ink: style(document.body).color, cut: cut.length };
    });
    if (seen.ground !== 'rgb(255, 255, 255)' || seen.ink !== 'rgb(0, 0, 0)') fault(where, `prints ${seen.ink} on ${seen.ground}`);
    if (seen.cut) fault(where, `${seen.cut} rows or pictures may be cut on paper`);
  });
}
await browser.close();

if (faults.length) {
  process.stderr.write(`${faults.join('\n')}\n${faults.length} faults on ${pages.length} pages\n`);
  process.exit(1);
}
process.stdout.write(`${pages.length} pages looked at: nothing to find\n`);
