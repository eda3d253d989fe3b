// Every page of a site, in a narrow window: it loads without a word of complaint, asks for nothing outside the site, holds nothing that could run
// or fetch, has no place twice, is no wider than the screen, and each of its links leads to a page of the site and a place on it.
import { fault, filesOf, inTabs, pagesOf, tab } from './session.mjs';

// What a page may be made of. Anything else came in from a book.
const ELEMENTS = new Set(('html head meta title link style body header nav main footer section article aside h1 h2 h3 h4 p ul ol li dl dt dd a ' +
  'strong em b i small span div code pre kbd abbr time mark br hr wbr sup sub figure figcaption table caption colgroup col thead tbody tfoot tr th td ' +
  'details summary svg g defs pattern symbol use path rect line polyline polygon circle ellipse text tspan desc clippath lineargradient stop').split(' '));

export async function everyPage(browser, site, kind = '', options = {}) {
  const files = new Set(filesOf(site));
  const pages = pagesOf(site);
  const places = new Map();
  const links = [];
  const viewport = { width: 360, height: 800 };
  const tabs = await Promise.all([1, 2].map(() => tab(browser, site, { viewport, ...options }, kind)));
  await inTabs(pages, tabs, async ({ page, open }, name) => {
    const where = await open(name);
    const seen = await page.evaluate(() => {
      const wide = () => document.documentElement.scrollWidth;
      const all = [...document.querySelectorAll('*')];
      const closed = wide();
      document.querySelectorAll('details').forEach((one) => { one.open = true; });
      const ids = all.map((one) => one.id).filter(Boolean);
      return {
        wide: Math.max(closed, wide()),
        ids,
        twice: ids.filter((id, at) => ids.indexOf(id) !== at),
        elements: [...new Set(all.map((one) => one.localName.toLowerCase()))],
        handlers: all.flatMap((one) => one.getAttributeNames().filter((attribute) => /^on|^srcdoc$|^action$|^formaction$/i.test(attribute))),
        links: all.flatMap((one) => ['href', 'xlink:href', 'src'].map((attribute) => one.getAttribute(attribute)).filter((link) => link !== null)),
        pointed: all.flatMap((one) => ['aria-labelledby', 'aria-describedby', 'aria-controls', 'for', 'headers']
          .flatMap((attribute) => (one.getAttribute(attribute) ?? '').split(' ').filter(Boolean))),
        refresh: document.querySelectorAll('meta[http-equiv=refresh i], base').length,
        attacked: window.attacked ?? window[0]?.attacked,
        words: document.querySelector('main')?.innerText.trim().length ?? 0,
      };
    });
    if (seen.wide > viewport.width) fault(where, `is ${seen.wide} px wide at ${viewport.width}`);
    if (seen.words < 40) fault(where, 'says next to nothing');
    if (seen.twice.length) fault(where, `has ${seen.twice.slice(0, 3).join(', ')} twice`);
    const strange = seen.elements.filter((element) => !ELEMENTS.has(element));
    if (strange.length) fault(where, `has <${strange.join('>, <')}>`);
    if (seen.handlers.length) fault(where, `has ${seen.handlers.join(', ')}`);
    if (seen.refresh) fault(where, 'leads elsewhere by itself');
    if (seen.attacked !== undefined) fault(where, `was attacked by ${seen.attacked}`);
    const ids = new Set(seen.ids);
    for (const id of seen.pointed) if (!ids.has(id)) fault(where, `speaks of #${id}, which is not there`);
    places.set(name, ids);
    for (const link of new Set(seen.links)) links.push([name, where, link]);
  });

  const root = 'site://here/';
  for (const [name, where, link] of links) {
    if (link === 'data:,') continue;
    const to = URL.canParse(link, root + name) ? new URL(link, root + name) : null;
    const file = to?.href.startsWith(root) ? decodeURIComponent(to.pathname.slice(1)) : null;
    // A way above the site would be cut off by the rules of addresses, and be another file on a disk.
    const climbs = link.split('/').filter((part) => part === '..').length > name.split('/').length - 1;
    if (file === null || climbs || link.startsWith('/') || !files.has(file)) fault(where, `links to ${link}`);
    else if (to.hash && !places.get(file)?.has(decodeURIComponent(to.hash.slice(1)))) fault(where, `links to ${link}, of which the place is missing`);
  }
  return { pages: pages.length, links: links.length };
}
