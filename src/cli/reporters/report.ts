import type { Finding } from '../../findings/finding.js';

/** What a run of `check` found, for a reporter to write. */
export interface Report {
  readonly findings: readonly Finding[];
  /** Number of the shop's own files that were checked. */
  readonly files: number;
}

export interface Summary {
  readonly files: number;
  readonly errors: number;
  readonly warnings: number;
  readonly infos: number;
}

export function summaryOf({ findings, files }: Report): Summary {
  const count = (severity: Finding['severity']) => findings.filter((finding) => finding.severity === severity).length;
  return { files, errors: count('error'), warnings: count('warning'), infos: count('info') };
}

/** One reporter a format; each gives the text for standard output, piece by piece: of a large library it would fill the memory. */
export type Reporter = (report: Report, options: { readonly colour: boolean }) => Iterable<string>;

/** Pieces are handed on in so many letters, about. */
const enough = 65_536;

/** Hands on a report in pieces that are worth a call. */
export function hand(pieces: Iterable<string>, write: (text: string) => void): void {
  let text = '';
  for (const piece of pieces) {
    text += piece;
    if (text.length < enough) continue;
    write(text);
    text = '';
  }
  if (text !== '') write(text);
}

/** What stands for the items of a list, while the text around it is made. */
const items = '\0items';

/**
 * The text of a value that holds one long list, item by item.
 * @param around the value, with a list in the place of that one
 * @returns the same as of the whole, indented by two
 */
export function* jsonWith(around: (list: readonly unknown[]) => unknown, list: Iterable<unknown>): Generator<string> {
  const [head = '', tail = ''] = JSON.stringify(around([items]), null, 2).split(JSON.stringify(items));
  const indent = /\n *$/.exec(head)?.[0] ?? '';
  let first = true;
  for (const item of list) {
    yield `${first ? head : `,${indent}`}${JSON.stringify(item, null, 2).replaceAll('\n', indent)}`;
    first = false;
  }
  yield first ? `${JSON.stringify(around([]), null, 2)}\n` : `${tail}\n`;
}

export function* mapped<A, B>(list: Iterable<A>, to: (one: A) => B): Generator<B> {
  for (const one of list) yield to(one);
}
