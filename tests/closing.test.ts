// The fix of what is left open: the step that closes it, added where it belongs or not at all.
import { describe, expect, it } from 'vitest';
import { applyFixes } from '../src/findings/fixes.js';
import type { LibraryFile } from '../src/library/document.js';
import { Checker } from '../src/rules/checker.js';
import { demoTexts, libraryOf } from './helpers/shop.js';

const texts = demoTexts();

/** What is wrong in one file of the demo shop with another text in it. */
function wrongIn(file: string, text: string) {
  const library = libraryOf({ ...texts, [file]: text });
  const isIt = (one: LibraryFile) => one.file.text === text;
  const { foundIn } = new Checker().checkSome(library, isIt);
  return library.files.filter(isIt).flatMap((one) => foundIn(one).filter(({ severity }) => severity === 'error'));
}

/** Mended as far as it goes. */
function mended(file: string, text: string): string {
  const [mend] = applyFixes(
    wrongIn(file, text).filter(({ rule }) => rule === 'ledger/left-open' || rule === 'ledger/temporary-left-in'),
  ).files;
  return mend ? mended(file, mend.text) : text;
}

/** Every step of a close-up that puts something back: the line it begins on, and the first line behind it. */
const closings = Object.entries(texts).flatMap(([file, text]) => {
  if (!/procedures\/[\w-]+\.yaml$|^\/shipped\/[\w-]+\.yaml$/.test(file)) return [];
  const lines = text.split('\n');
  const from = lines.indexOf('close-up:');
  return lines.flatMap((line, at) => {
    if (from < 0 || at < from || !/^ {2}- (fit|close|connect|return|unsupport|unlock|release|clear|switch-on|energise): /.test(line))
      return [];
    const rest = lines.slice(at + 1);
    const length = rest.findIndex((one) => !one.startsWith('    '));
    return lines.slice(from, at).some((one) => /^\S/.test(one) && one !== 'close-up:')
      ? []
      : [{ file, line, at, to: at + 1 + (length < 0 ? rest.length : length) }];
  });
});

describe('a step of a close-up that was deleted', () => {
  const without = ({ file, at, to }: (typeof closings)[number]) =>
    (texts[file] ?? '')
      .split('\n')
      .toSpliced(at, to - at)
      .join('\n');

  it('comes back without an error, and mostly where it was; where two places could be meant it is left to people', () => {
    let same = 0;
    let left = 0;
    for (const one of closings) {
      const text = without(one);
      const after = mended(one.file, text);
      if (after === text) {
        left++;
        continue;
      }
      expect([one.file, one.line, wrongIn(one.file, after).map(({ message }) => message)]).toEqual([one.file, one.line, []]);
      const [now, before] = [after.split('\n'), text.split('\n')];
      const place = now.findIndex((line, n) => line !== before[n]);
      if (place === one.at) same++;
      // What holds or locks is never taken away sooner than it was.
      if (!/- (fit|close|connect|return): /.test(one.line)) expect([one.line, place]).toEqual([one.line, one.at]);
    }
    expect(closings.length).toBeGreaterThan(60);
    expect(left / closings.length).toBeLessThan(0.25);
    expect(same / (closings.length - left)).toBeGreaterThan(0.9);
  }, 120_000);

  it('a drain plug before the fluid, a belt not behind what tightens it', () => {
    const [plug] = closings.filter(({ file, line }) => file.endsWith('/clutch.yaml') && line.includes('close: gearbox-drain-plug'));
    const text = plug ? mended(plug.file, without(plug)) : '';
    expect(text.indexOf('- close: gearbox-drain-plug')).toBeGreaterThan(0);
    expect(text.indexOf('- close: gearbox-drain-plug')).toBeLessThan(text.indexOf('- tighten: gearbox-drain-plug'));
    expect(text.indexOf('- tighten: gearbox-drain-plug')).toBeLessThan(text.indexOf('- fill: gearbox-oil'));
    for (const belt of closings.filter(({ line }) => line.includes('fit: timing-belt')))
      expect(mended(belt.file, without(belt))).toBe(without(belt));
  });

  it('takes the line ends of the file, and leaves a remark where it stands', () => {
    const file = '/shop/procedures/clutch.yaml';
    const text = (texts[file] ?? '')
      .replace('  - close: gearbox-drain-plug\n    says: New seal.\n', '  # the plug\n')
      .replace('  - tighten: driveshafts\n', '  - tighten: driveshafts # both sides\n')
      .replaceAll('\n', '\r\n');
    expect(mended(file, text)).toContain(
      '  - tighten: driveshafts # both sides\r\n  - close: gearbox-drain-plug\r\n  # the plug\r\n  - tighten: gearbox-drain-plug\r\n',
    );
  });
});
