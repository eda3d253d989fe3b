// Pages that stand for their kind, closely: on a phone, a tablet and a desk, light and dark, no finding of the accessibility checker and nothing wider
// than the screen; without scripts it is all there. Colours change with light and dark, not with the width, and their contrasts take the checker
// most of its time: they are checked once in each.
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { fault, inTabs, tab } from './session.mjs';

const checker = await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

const EVERYTHING = {};
const CONTRAST = { runOnly: { type: 'rule', values: ['color-contrast'] } };
const ALL_BUT_CONTRAST = { rules: { 'color-contrast': { enabled: false } } };
export const VIEWS = [[360, 'light', EVERYTHING], [820, 'light', ALL_BUT_CONTRAST], [1280, 'dark', EVERYTHING]];
// Of pages of which there are many alike.
export const FEWER_VIEWS = [[360, 'light', EVERYTHING], [820, 'light', null], [1280, 'dark', CONTRAST]];

export async function checkAccess(page, where, rules) {
  if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(checker);
  const found = await page.evaluate((own) => axe.run(document, { resultTypes: ['violations'], elementRef: false, preload: false, ...own }), rules);
  for (const violation of found.violations) {
    const places = violation.nodes.slice(0, 3).map((node) => node.html.slice(0, 160)).join('\n      ');
    fault(where, `${violation.id}: ${violation.help} (${violation.nodes.length})\n      ${places}`);
  }
}

// `views` are the widths and colours in which a page is seen, and what is checked of each; nothing but its width where that is `null`.
export async function closely(browser, site, names, kind = '', views = VIEWS) {
  const tabs = await Promise.all([1, 2].map(() => tab(browser, site, { bypassCSP: true }, kind)));
  await inTabs(names, tabs, async ({ page, open }, name) => {
    const where = await open(name);
    for (const opened of [false, true]) {
      if (opened) await page.evaluate(() => document.querySelectorAll('details').forEach((one) => { one.open = true; }));
      for (const [width, colorScheme, rules] of views) {
        await page.setViewportSize({ width, height: 800 });
        const wide = await page.evaluate(() => document.documentElement.scrollWidth);
        if (wide > width) fault(where, `is ${wide} px wide at ${width}`);
        if (!opened || !rules) continue;
        await page.emulateMedia({ colorScheme });
        await checkAccess(page, `${where} (${width} px, ${colorScheme})`, rules);
      }
    }
  });

  const plain = [await tab(browser, site, { javaScriptEnabled: false }, kind)];
  await inTabs(names, plain, async ({ page, open }, name) => {
    const where = await open(name);
    if ((await page.locator('main').innerText()).trim().length < 40) fault(where, 'says nothing without scripts');
    if (await page.locator('script, noscript').count()) fault(where, 'has a script');
    for (const picture of await page.locator('svg[role=img]').all()) {
      const named = await picture.locator('title').count() && await picture.locator('desc').count();
      if (!named) fault(where, 'has a picture without words');
    }
  });
}
