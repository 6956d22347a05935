// Files as other systems write them: line ends of Windows, a byte order mark, backslashes in paths, no line end at the end.
import path from 'node:path';
import { expect, it } from 'vitest';
import { checkLibrary } from '../src/compile.js';
import { applyFixes } from '../src/findings/fixes.js';
import { placeOf } from '../src/source/source.js';
import { forward } from '../src/world/paths.js';
import { compiled, demoTexts, libraryOf, projectFolder, textsOf } from './helpers/shop.js';

const texts = demoTexts();
const changed = (change: (text: string) => string) => Object.fromEntries(Object.entries(texts).map(([file, text]) => [file, change(text)]));
const variants: [string, (text: string) => string][] = [
  ['line ends of Windows', (text) => text.replaceAll('\n', '\r\n')],
  ['a byte order mark', (text) => `\ufeff${text}`],
  ['both', (text) => `\ufeff${text.replaceAll('\n', '\r\n')}`],
  ['no line end at the end', (text) => text.trimEnd()],
];

it.each(variants)('the demo with %s is as clean, and its jobs are the same', (_, change) => {
  const library = libraryOf(changed(change));
  expect(checkLibrary(library).filter((one) => one.severity !== 'info')).toEqual([]);
  const plain = compiled(libraryOf(texts), '2041-head-gasket');
  const same = compiled(library, '2041-head-gasket');
  expect({ ...same, digest: '' }).toEqual({ ...plain, digest: '' });
});

it.each(variants)('a mistake is at the same line and column with %s, and is mended there', (_, change) => {
  const file = '/shop/procedures/coolant-pump.yaml';
  const wrong = (texts[file] ?? '').replace('- tighten: pump-bolts', '- tigthen: pump-bolts');
  const errors = (all: Record<string, string>) => checkLibrary(libraryOf(all)).filter((one) => one.severity === 'error');
  const [expected] = errors({ ...texts, [file]: wrong });
  const [found] = errors({ ...changed(change), [file]: change(wrong) });
  if (!expected || !found) throw new Error('nothing was found');
  expect(found.message).toBe(expected.message);
  expect(placeOf(found.span.file, found.span.start)).toEqual(placeOf(expected.span.file, expected.span.start));
  const [mended] = applyFixes([found]).files;
  // The mark is no part of the text that is edited; the prompt puts it back.
  expect(mended?.text).toBe(change(texts[file] ?? '').replace(/^\ufeff/, ''));
});

it('paths have forward slashes inside, whatever the system writes', () => {
  expect(forward('C:\\shop\\procedures\\pump.yaml', '\\')).toBe('C:/shop/procedures/pump.yaml');
  expect(forward('/shop/odd\\name.yaml', '/')).toBe('/shop/odd\\name.yaml');
});

it('no name of a file that is shipped is one that Windows cannot have', () => {
  const names = Object.keys({
    ...textsOf(path.join(projectFolder, 'procedures'), ''),
    ...textsOf(path.join(projectFolder, 'examples'), ''),
  });
  expect(names.filter((name) => /[<>:"\\|?*]|(^|\/)(con|prn|aux|nul|com\d|lpt\d)(\.|\/|$)|[. ]($|\/)/i.test(name))).toEqual([]);
});
