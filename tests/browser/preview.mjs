// `kerfbook preview` in a browser: the page loads, is loaded anew when a file is saved, shows mistakes in place of figures and figures again, and keeps to
// itself: another name that leads here, another site's page and a frame get nothing of it.
import { spawn } from 'node:child_process';
import { cp, readFile, rename, writeFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import { join } from 'node:path';
import { VIEWS, checkAccess } from './closely.mjs';
import { fault, launch } from './session.mjs';

const PATIENCE = 20_000;

export async function previewed(kerfbook, example, work) {
  const book = join(work, 'previewed');
  await cp(example, book, { recursive: true });
  const command = spawn(kerfbook, ['preview', '--book', book, '--today', '2027-02-01', '--port', '0'], { stdio: ['ignore', 'pipe', 'inherit'] });
  // Names of a stranger, one of which leads to this machine.
  const browser = await launch('--host-resolver-rules=MAP rebound.example 127.0.0.1');
  const stranger = createServer((_, answer) => answer.setHeader('Content-Type', 'text/html').end('<title>a stranger</title>'));
  try {
    const port = await new Promise((told, failed) => {
      let words = '';
      command.stdout.on('data', (more) => {
        words += more;
        const port = /http:\/\/127\.0\.0\.1:(\d+)\//.exec(words)?.[1];
        if (port) told(port);
      });
      command.on('exit', () => failed(new Error('the preview ended')));
    });
    await look(browser, book, port);
    await new Promise((listening) => { stranger.listen(0, '127.0.0.1', listening); });
    await attack(browser, port, stranger.address().port);
  } finally {
    stranger.close();
    command.removeAllListeners('exit');
    command.kill('SIGINT');
    await browser.close();
  }
}

async function look(browser, book, port) {
  const where = 'preview';
  const context = await browser.newContext({ viewport: { width: 360, height: 800 } });
  const page = await context.newPage();
  page.on('request', (request) => {
    const url = request.url();
    if (!url.startsWith(`http://127.0.0.1:${port}/`) && !url.startsWith('data:')) fault(where, `asks for ${url}`);
  });
  page.on('pageerror', (error) => fault(where, `error ${error.message}`));
  page.on('console', (message) => { if (message.type() === 'error') fault(where, `console: ${message.text()}`); });
  const shows = async (words, what) => page.getByText(words).first().waitFor({ state: 'attached', timeout: PATIENCE }).catch(() => fault(where, what));

  await page.goto(`http://127.0.0.1:${port}/cost.html`);
  await page.evaluate(() => { window.kept = true; });
  await page.waitForTimeout(1500);
  if (!(await page.evaluate(() => window.kept))) fault(where, 'loads anew though nothing was saved');

  const shop = join(book, 'shop.kerf');
  const text = await readFile(shop, 'utf8');
  await writeFile(shop, text.replaceAll('Pull-along cart', 'Cart <script>window.attacked=1</script> anew'));
  await shows('Cart <script>window.attacked=1</script> anew', 'does not load anew after a save');

  await writeFile(`${shop}.new`, text.replace('product pull-cart', 'produkt pull-cart'));
  await rename(`${shop}.new`, shop);
  await shows('No figures yet', 'does not show the mistakes of a broken book');
  await shows(/^shop\.kerf, line \d+$/, 'does not say where a mistake is');
  await checkMistakes(browser, port);
  await writeFile(shop, text);
  await shows('What does it cost?', 'does not show figures again when the book is mended');
  if (await page.evaluate(() => window.attacked)) fault(where, 'was attacked');
  await context.close();

  const plain = await browser.newContext({ javaScriptEnabled: false });
  const still = await plain.newPage();
  await still.goto(`http://localhost:${port}/`);
  if (!(await still.locator('body').innerText()).includes('Scripts are off')) fault(where, 'says nothing of scripts that are off');
  await plain.close();
}

async function checkMistakes(browser, port) {
  const context = await browser.newContext({ bypassCSP: true });
  const page = await context.newPage();
  await page.goto(`http://127.0.0.1:${port}/`);
  for (const [width, colorScheme, rules] of VIEWS) {
    await page.setViewportSize({ width, height: 800 });
    await page.emulateMedia({ colorScheme });
    const wide = await page.evaluate(() => document.documentElement.scrollWidth);
    if (wide > width) fault('mistakes', `is ${wide} px wide at ${width}`);
    await checkAccess(page, `mistakes (${width} px, ${colorScheme})`, rules);
  }
  await context.close();
}

async function attack(browser, port, strangers) {
  const context = await browser.newContext();
  const page = await context.newPage();
  const answer = await page.goto(`http://rebound.example:${port}/`);
  if (answer.status() !== 421) fault('rebound', `was answered with ${answer.status()}`);
  for (const at of [`http://127.0.0.1:${strangers}/`, `http://localhost:${strangers}/`]) {
    await page.goto(at);
    const got = await page.evaluate(async (address) => {
      const read = await fetch(`${address}.preview/shown`).then((one) => one.text(), () => 'nothing');
      const blind = await fetch(`${address}index.html`, { mode: 'no-cors' }).then((one) => one.type, () => 'nothing');
      const script = await new Promise((told) => {
        const one = document.createElement('script');
        one.src = `${address}.preview/reload.js`;
        one.onload = () => told('a script');
        one.onerror = () => told('nothing');
        document.head.append(one);
      });
      const frame = document.createElement('iframe');
      frame.src = address;
      const framed = new Promise((told) => { frame.onload = () => told(frame.contentDocument === null ? 'closed' : 'open'); });
      document.body.append(frame);
      await framed;
      return [read, blind, script];
    }, `http://127.0.0.1:${port}/`);
    if (got.some((one) => one !== 'nothing')) fault('stranger', `a page at ${at} got ${got.join(', ')}`);
    for (const frame of page.frames().slice(1)) {
      const words = await frame.locator('body').innerText().catch(() => '');
      if (words.includes('What does it cost')) fault('stranger', `a page at ${at} frames the preview`);
    }
  }
  await context.close();
}
