// Files as other systems write them: line ends of Windows, a byte order mark, backslashes in paths, no line end at the end.
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { expect, it } from 'vitest';
import { checkLibrary } from '../src/compile.js';
import { applyFixes } from '../src/findings/fixes.js';
import { yamlEndings } from '../src/library/root.js';
import { placeOf } from '../src/source/source.js';
import { memoryWorld } from '../src/world/memory.js';
import { forward } from '../src/world/paths.js';
import { realWorld } from '../src/world/real.js';
import { compiled, demoTexts, found, libraryOf, projectFolder, textsOf } from './helpers/shop.js';

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

it('an ending in capitals is the same ending', () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-capitals-'));
  const names = ['a.yaml', 'b.YAML', 'c.Yml', 'd.yaml.txt', 'e.yamlx'];
  for (const name of names) fs.writeFileSync(path.join(folder, name), 'a: 1\n');
  const found = [realWorld.files(forward(folder), yamlEndings), realWorld.filesIn(folder, yamlEndings)];
  found.push(memoryWorld(Object.fromEntries(names.map((name) => [`/x/${name}`, '']))).files('/x', yamlEndings));
  fs.rmSync(folder, { recursive: true });
  for (const all of found) expect(all.map((one) => path.posix.basename(one))).toEqual(['a.yaml', 'b.YAML', 'c.Yml']);
});

it('a shop in other letters, which only some systems take for the same, is told as that', () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-capitals-'));
  fs.writeFileSync(path.join(folder, 'Shop.yaml'), texts['/shop/shop.yaml'] ?? '');
  const isSame = fs.existsSync(path.join(folder, 'shop.yaml'));
  const { status, stderr } = spawnSync(process.execPath, [path.join(projectFolder, 'bin/baywright.js'), 'check'], {
    cwd: folder,
    encoding: 'utf8',
  });
  fs.rmSync(folder, { recursive: true });
  if (isSame) expect(status).toBe(0);
  else expect([status, stderr]).toEqual([2, expect.stringMatching(/its shop is called shop\.yaml\. Call .*\/Shop\.yaml so\./)]);
});

it.runIf(process.platform !== 'win32')('what is called shop.yaml and is no file is told as what it is', () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-no-shop-'));
  const shop = path.join(folder, 'shop.yaml');
  const said = (make: () => void) => {
    make();
    const { status, stderr } = spawnSync(process.execPath, [path.join(projectFolder, 'bin/baywright.js'), 'check'], {
      cwd: folder,
      encoding: 'utf8',
    });
    fs.rmSync(shop, { recursive: true, force: true });
    return [status, stderr];
  };
  expect(said(() => {})).toEqual([2, expect.stringMatching(/no shop\.yaml in this folder or in one above it/)]);
  expect(said(() => fs.mkdirSync(shop))).toEqual([2, expect.stringMatching(/shop\.yaml is not a file/)]);
  expect(said(() => void spawnSync('mkfifo', [shop]))).toEqual([2, expect.stringMatching(/shop\.yaml is not a file/)]);
  expect(said(() => fs.symlinkSync('gone', shop))).toEqual([2, expect.stringMatching(/shop\.yaml is a link to a file that there is not/)]);
  expect(said(() => fs.writeFileSync(`${shop}.txt`, ''))).toEqual([2, expect.stringMatching(/Call .*shop\.yaml\.txt so/)]);
  fs.rmSync(folder, { recursive: true });
});

it('a document that an editor for plain text has called otherwise is told, and nothing that follows from it', () => {
  const { '/shop/vehicles/marn-20.yaml': text = '', ...others } = texts;
  const all = found(libraryOf({ ...others, '/shop/vehicles/marn-20.yaml.txt': text }));
  expect(all.map(({ rule, place, message }) => `${rule} ${place} ${message}`)).toEqual([
    'yaml/ending vehicles/marn-20.yaml.txt:1 This file is called marn-20.yaml.txt, and so it is no document; where endings are hidden, nobody sees that. Call it marn-20.yaml.',
  ]);
});

it('no name of a file that is shipped is one that Windows cannot have', () => {
  const names = Object.keys({
    ...textsOf(path.join(projectFolder, 'procedures'), ''),
    ...textsOf(path.join(projectFolder, 'examples'), ''),
  });
  expect(names.filter((name) => /[<>:"\\|?*]|(^|\/)(con|prn|aux|nul|com\d|lpt\d)(\.|\/|$)|[. ]($|\/)/i.test(name))).toEqual([]);
});
