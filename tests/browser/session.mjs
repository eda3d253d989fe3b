// The browser of a run, the faults that were found, and the opening of a page under watch.
import { readdirSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';

const found = new Set();

export const fault = (where, what) => found.add(`${where}: ${what}`);
export const faults = () => [...found];

export const launch = (...further) => chromium.launch({
  executablePath: process.env.CHROMIUM,
  args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
    '--disable-component-update', '--disable-sync', ...further],
});

// Every file of a site below its folder, with `/` between the parts, in order.
export const filesOf = (site) => readdirSync(site, { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile())
  .map((entry) => relative(site, join(entry.parentPath ?? entry.path, entry.name)).split(sep).join('/'))
  .sort();

export const pagesOf = (site) => filesOf(site).filter((name) => name.endsWith('.html'));

// Opens pages one after the other in a tab of its own, and tells of whatever a page logs, fails at or asks for outside its site.
export async function tab(browser, site, options, kind = '') {
  const context = await browser.newContext(options);
  const page = await context.newPage();
  const root = pathToFileURL(join(site, sep)).href;
  let where = kind;
  page.on('request', (request) => {
    const url = request.url();
    if (!url.startsWith(root) && !url.startsWith('data:')) fault(where, `asks for ${url}`);
  });
  page.on('requestfailed', (request) => fault(where, `can't have ${request.url()}`));
  page.on('pageerror', (error) => fault(where, `error ${error.message}`));
  page.on('dialog', (dialog) => { fault(where, `dialog ${dialog.message()}`); dialog.dismiss(); });
  page.on('console', (message) => {
    if (['error', 'warning'].includes(message.type())) fault(where, `console: ${message.text()}`);
  });
  const open = async (name) => {
    where = `${name}${kind}`;
    await page.goto(pathToFileURL(join(site, name)).href);
    return where;
  };
  return { page, open, close: () => context.close() };
}

// Works through a list in as many tabs as there are makers of one.
export async function inTabs(names, tabs, work) {
  const left = [...names];
  await Promise.all(tabs.map(async (one) => {
    for (let name = left.shift(); name !== undefined; name = left.shift()) await work(one, name);
    await one.close();
  }));
}

// The pages to look at closely: all at the top, and of each folder the largest, the smallest and one between.
export function sampleOf(pages, sizeOf) {
  const folders = new Map();
  for (const name of pages) {
    const folder = name.split('/').slice(0, -1).join('/');
    folders.set(folder, [...(folders.get(folder) ?? []), name]);
  }
  return [...folders].flatMap(([folder, names]) => {
    if (folder === '' || names.length <= 3) return names;
    const sorted = [...names].sort((a, b) => sizeOf(a) - sizeOf(b) || (a < b ? -1 : 1));
    return [sorted[0], sorted[sorted.length >> 1], sorted.at(-1)];
  });
}
