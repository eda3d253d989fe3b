// Pages on paper, A4 and Letter: black on white, no row of a table is cut by the end of a sheet, and the rows that head it stand again on each sheet.
//
// Where a row stands is found by making a link of what each of its cells holds, which names the row: a PDF says of each link on which sheet and where it is.
import { fault, inTabs, tab } from './session.mjs';

export async function onPaper(browser, site, names, kind = '') {
  const tabs = await Promise.all([1, 2].map(() => tab(browser, site, { bypassCSP: true, viewport: { width: 720, height: 1000 } }, kind)));
  await inTabs(names, tabs, async ({ page, open }, name) => {
    const where = await open(name);
    await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
    const seen = await page.evaluate(() => {
      const style = (element) => getComputedStyle(element);
      const cut = [...document.querySelectorAll('tr, figure, .answer')].filter((one) => style(one).breakInside !== 'avoid');
      const colours = { ground: style(document.body).backgroundColor, ink: style(document.body).color, cut: cut.length };
      document.querySelectorAll('table').forEach((table, at) => [...table.rows].forEach((row, number) => [...row.cells].forEach((cell) => {
        const address = `http://row.test/${at}/${row.parentElement.localName === 'thead' ? 'head' : 'row'}/${number}`;
        cell.querySelectorAll('a').forEach((link) => { link.href = address; });
        const link = document.createElement('a');
        link.href = address;
        link.append(...cell.childNodes);
        cell.append(link);
      })));
      const tables = [...document.querySelectorAll('table')].map((table) => (table.checkVisibility() ? table.rows.length : 0));
      return { ...colours, tables };
    });
    if (seen.ground !== 'rgb(255, 255, 255)' || seen.ink !== 'rgb(0, 0, 0)') fault(where, `prints ${seen.ink} on ${seen.ground}`);
    if (seen.cut) fault(where, `${seen.cut} rows or pictures may be cut on paper`);
    for (const format of ['A4', 'Letter']) {
      const sheets = sheetsOf(await page.pdf({ format }));
      tellCuts(sheets, seen.tables, `${where} (${format}, ${sheets.length} sheets)`);
    }
  });
}

// The addresses of the links on each sheet of a PDF. Of what the browser's writer of PDFs makes, only text and pictures are compressed.
function sheetsOf(pdf) {
  const objects = new Map();
  for (const [, number, body] of pdf.toString('latin1').matchAll(/(\d+) 0 obj\s([\s\S]*?)\sendobj/g)) objects.set(number, body);
  const pages = [...objects.values()].filter((body) => /^<<\s*\/Type\s*\/Page\b(?!s)/.test(body));
  return pages.map((page) => {
    const listed = /\/Annots\s*\[([^\]]*)\]/.exec(page)?.[1] ?? '';
    const links = [...listed.matchAll(/(\d+) 0 R/g)].map(([, number]) => objects.get(number) ?? '');
    return links.map((link) => /\/URI\s*\(http:\/\/row\.test\/([^)]*)\)/.exec(link)?.[1]).filter(Boolean);
  });
}

function tellCuts(sheets, tables, where) {
  const at = new Map();
  sheets.forEach((rows, sheet) => new Set(rows).forEach((row) => at.set(row, [...(at.get(row) ?? []), sheet])));
  for (const [table, rows] of tables.entries()) {
    const own = [...at].filter(([row]) => row.startsWith(`${table}/`));
    if (rows > 0 && own.length === 0) fault(where, `table ${table} is not found on paper`);
    const bodies = own.filter(([row]) => row.includes('/row/'));
    const heads = own.filter(([row]) => row.includes('/head/'));
    for (const [row, on] of bodies) if (on.length > 1) fault(where, `row ${row} is cut, on sheets ${on.map((sheet) => sheet + 1).join(' and ')}`);
    const needed = new Set(bodies.flatMap(([, on]) => on));
    for (const [row, on] of heads) {
      const missing = [...needed].filter((sheet) => !on.includes(sheet));
      if (missing.length) fault(where, `head ${row} is not on sheet ${missing.map((sheet) => sheet + 1).join(', ')}`);
    }
  }
}
