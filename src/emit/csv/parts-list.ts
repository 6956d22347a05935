import type { CompiledJob } from '../../schema/generated/compiled-job.js';

/** The parts list as CSV (RFC 4180), one purchase a line. A field that a spreadsheet would run as a formula is quoted with an apostrophe. */
export function partsListCsv(job: CompiledJob): string {
  const head = ['bin', 'number', 'name', 'count', 'price', 'amount', 'contains', 'hold', 'deposit', 'supplier'];
  const rows = [...job.parts.buy, ...job.parts.fluids].map((one) => [
    one.bin ?? '',
    one.number,
    one.name,
    one.drawn ?? String(one.count),
    one.price,
    one.amount,
    one.contains.map((item) => `${item.amount} ${item.name}`).join('; '),
    one.hold.join('; '),
    one.core ?? '',
    one.supplier ?? '',
  ]);
  return [head, ...rows]
    .map((row) => row.map(field).join(','))
    .join('\r\n')
    .concat('\r\n');
}

function field(value: string): string {
  const safe = /^[=+\-@\t]/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
