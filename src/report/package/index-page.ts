import type { ManifestEntry } from './manifest.ts';
import type { Row, Rows } from './rows.ts';
import { packedTables, type PackedTable } from './tables.ts';

const ESCAPES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

export function escapeHtml(text: string): string {
  return text.replace(/[&<>"']/g, (sign) => ESCAPES[sign] ?? sign);
}

/** What of a table is shown. Long texts (contents, calculations) stay in the records, where they are whole. */
interface Shown {
  readonly table: string;
  readonly heading: string;
  readonly columns: Readonly<Record<string, string>>;
}

const shown: readonly Shown[] = [
  { table: 'person', heading: 'People', columns: { name: 'Name', id: 'Id' } },
  { table: 'opening', heading: 'Openings', columns: { ordinal: 'No.', name: 'Name', id: 'Id' } },
  {
    table: 'item',
    heading: 'Items',
    columns: { kind: 'Kind', key: 'Key', title: 'Title', opening_id: 'Opening', id: 'Id' },
  },
  {
    table: 'version',
    heading: 'Versions',
    columns: {
      item_id: 'Item',
      number: 'No.',
      author_role: 'By',
      created_at: 'Time',
      reason: 'Reason',
      hash: 'Hash',
    },
  },
  {
    table: 'mark',
    heading: 'Marks',
    columns: { word: 'Word', version_hash: 'Version’s hash', reason: 'Reason', by_id: 'By', at: 'Time' },
  },
  {
    table: 'approved_set',
    heading: 'Approved sets',
    columns: { opening_id: 'Opening', number: 'No.', note: 'Note', issued_at: 'Issued', hash: 'Hash' },
  },
  {
    table: 'visit',
    heading: 'Visits',
    columns: { opening_id: 'Opening', kind: 'Kind', opened_by_id: 'By', opened_at: 'Time', id: 'Id' },
  },
  {
    table: 'visit_closing',
    heading: 'Outcomes of visits',
    columns: { visit_id: 'Visit', outcome: 'Outcome', closed_at: 'Time' },
  },
];

/** One page to read the package by without the service: no script, relative links, everything escaped. */
export async function* indexPage(
  rows: Rows,
  projectName: string,
  madeAt: Date,
  entries: readonly ManifestEntry[],
): AsyncGenerator<string> {
  const title = escapeHtml(projectName);
  yield `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>${title}: the whole record</title>
<style>body{font:1rem/1.5 sans-serif;margin:1rem;color:#19252e;background:#fff}table{border-collapse:collapse}
th,td{border:1px solid #4d5a63;padding:.25rem .5rem;text-align:left;vertical-align:top;overflow-wrap:anywhere}
section{overflow-x:auto}</style></head><body>
<h1>${title}: the whole record</h1>
<p>As it was on ${madeAt.toISOString()}. A record of review, never a seal: the licensed engineer and the authority having
jurisdiction decide.</p>
<p>Check it with <code>sha256sum -c SHA256SUMS</code> in the unpacked folder.</p>
`;
  for (const one of shown) yield* tableSection(rows, one);
  yield '<section><h2>All that is in this package</h2><ul>\n';
  for (const { name, bytes, sha256 } of entries) {
    yield `<li><a href="${escapeHtml(name)}">${escapeHtml(name)}</a>, ${bytes} bytes, SHA-256 ${sha256}</li>\n`;
  }
  yield '</ul></section>\n</body></html>\n';
}

async function* tableSection(rows: Rows, { table, heading, columns }: Shown): AsyncGenerator<string> {
  const packed = packedTables.find((one) => one.table === table);
  if (packed === undefined) throw new Error(`The package has no table ${table}.`);
  const names = Object.keys(columns);
  const narrow: PackedTable = { ...packed, columns: names };
  const heads = Object.values(columns).map((word) => `<th scope="col">${word}</th>`);
  yield `<section><h2>${heading}</h2><p><a href="records/${table}.jsonl">All of them, whole</a></p>
<table><thead><tr>${heads.join('')}</tr></thead><tbody>\n`;
  for await (const row of rows.of(narrow)) yield lineOf(row, names);
  yield '</tbody></table></section>\n';
}

function lineOf(row: Row, names: readonly string[]): string {
  const cells = names.map((name) => {
    const value = row[name];
    const text = typeof value === 'string' || typeof value === 'number' ? String(value) : '';
    return `<td>${escapeHtml(text)}</td>`;
  });
  return `<tr>${cells.join('')}</tr>\n`;
}
