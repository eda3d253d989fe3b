// Looks at sites in a real browser: look.mjs KERFBOOK|- EXAMPLE WORK SITE [ATTACKED]. Every page of each is loaded, some are looked at closely and printed,
// and the book is previewed. What is found is told at the end, and then the run has failed.
import { statSync } from 'node:fs';
import { join } from 'node:path';
import { FEWER_VIEWS, closely } from './closely.mjs';
import { everyPage } from './every_page.mjs';
import { onPaper } from './paper.mjs';
import { previewed } from './preview.mjs';
import { fault, faults, launch, pagesOf, sampleOf, tab } from './session.mjs';

const [kerfbook, example, work, site, attacked] = process.argv.slice(2);
const say = (words) => process.stdout.write(`${words} (after ${Math.round(process.uptime())} s)\n`);
const sample = (folder) => sampleOf(pagesOf(folder), (name) => statSync(join(folder, name)).size);

const browser = await launch();
const all = await everyPage(browser, site);
if (all.pages < 6) fault(site, `only ${all.pages} pages`);
say(`${all.pages} pages loaded, ${all.links} links followed`);
const isAtTop = (name) => !name.includes('/');
await closely(browser, site, sample(site).filter(isAtTop));
await closely(browser, site, sample(site).filter((name) => !isAtTop(name)), '', FEWER_VIEWS);
say(`${sample(site).length} looked at closely`);
await onPaper(browser, site, sample(site));
say('printed on A4 and Letter');

if (attacked) {
  // Twice: as a reader has it, and without the page's own rule against scripts, since what a book says must not become markup in the first place.
  await everyPage(browser, attacked, ' (attacked)');
  const bare = await everyPage(browser, attacked, ' (attacked, without its rule)', { bypassCSP: true });
  await closely(browser, attacked, sample(attacked), ' (attacked)', FEWER_VIEWS.slice(0, 1));
  await onPaper(browser, attacked, sample(attacked), ' (attacked)');
  const { page, open, close } = await tab(browser, attacked, {}, ' (attacked)');
  const where = await open('index.html');
  const shown = await page.locator('.shop').first().innerText();
  if (!shown.includes("</title><script>window.attacked='shop'</script> & 'Sons'")) fault(where, `shows the shop as ${shown}`);
  await close();
  say(`${bare.pages} pages of the book that attacks them`);
}
await browser.close();

if (kerfbook !== '-') {
  await previewed(kerfbook, example, work);
  say('previewed');
}
const found = faults();
if (found.length) {
  process.stderr.write(`${found.join('\n')}\n${found.length} faults\n`);
  process.exit(1);
}
say('nothing to find');
