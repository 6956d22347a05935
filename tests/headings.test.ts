// Entries under a heading that is not theirs: told once, and read as if they stood under their own.
import { expect, it } from 'vitest';
import { demoTexts, demoWith, found, libraryOf } from './helpers/shop.js';

const texts = demoTexts();
const profiles = Object.keys(texts).filter((file) => file.startsWith('/shop/vehicles/'));
const usual = found(libraryOf(texts)).map(({ message }) => message);
const told = (library: ReturnType<typeof libraryOf>) => found(library).filter(({ message }) => !usual.includes(message));

// What is placed has a name alone, and could be a part.
const headings = ['fasteners', 'fluids', 'measurements', 'choices'];
const lost = profiles.flatMap((file) =>
  headings.filter((name) => texts[file]?.includes(`\n${name}:\n`)).map((name) => [file, name] as const),
);

it('there are enough headings to lose', () => {
  expect(lost.length).toBeGreaterThan(20);
});

it.each(lost)('%s without `%s:`', (file, name) => {
  const all = told(demoWith([file, `\n${name}:\n`, '\n']));
  expect(all.map(({ rule }) => rule)).toEqual(['schema/unknown-key']);
  expect(all[0]?.message).toMatch(new RegExp(`is said of what stands under \`${name}:\`\\. Write \`${name}:\` above (them|it)\\.$`));
});

const clutch = '/shop/vehicles/marn-20.yaml';
const under = (heading: string, entries: string) => told(demoWith([clutch, `\n${heading}:\n`, `\n${heading}:\n${entries}`]));

it('what was pasted under another heading is told once with what to do, whatever of it could stand there', () => {
  const pasted =
    '  lamp: { name: left lamp, behind: [starter], fasteners: lamp-screws }\n  cover: { name: lamp cover }\n  bar: { name: bar, item: bar }\n';
  const [first, ...others] = under('measurements', pasted);
  expect(first).toMatchObject({ rule: 'schema/unknown-key', line: expect.stringContaining('lamp: {') });
  expect(first?.message).toBe(
    '`lamp` and 2 more stand under `measurements:`, and what is said of them is said of what stands under `parts:`. Move them there.',
  );
  // What is wrong in them is told where it stands.
  expect(others.map(({ rule, line }) => [rule, line.trim().slice(0, 5)])).toEqual([['reference/unknown-in-profile', 'lamp:']]);
});

it('a single key that is wrong is told as that, and so is what could stand in two places', () => {
  expect(under('fluids', '  oil: { name: oil, spec: X, capacity: 1 L, behind: [starter] }\n').map(({ message }) => message)).toEqual([
    '`behind` is not a key of `oil`. It is a key of what stands under `parts`.',
  ]);
  expect(under('measurements', '  gap: { name: gap, behind: [starter] }\n')[0]?.message).toBe(
    '`behind` is not a key of `gap`. It is a key of what stands under `parts`.',
  );
  expect(
    under('measurements', '  gap: { name: gap, hazard: hot, opened-after: [x] }\n').map(({ message }) => message.split('.')[0]),
  ).toEqual(['`hazard` is not a key of `gap`', '`opened-after` is not a key of `gap`']);
});
