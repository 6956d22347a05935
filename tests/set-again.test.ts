// What must be set again after a part was off, by the names of parts as workshops have them; common practice, no source.
import { expect, it } from 'vitest';
import { checkLibrary } from '../src/compile.js';
import { filesOfExample } from '../src/rules/example-library.js';
import { procedure } from '../src/rules/examples.js';
import { libraryOf } from './helpers/shop.js';

/** The rules that ask for it, where a part of this name is off and these steps follow. */
function asked(name: string, after = '', isNew = false): string[] {
  const fit = `  - fit: it\n${isNew ? '    new: true\n' : ''}`;
  const steps = `parts: { it: { name: ${name} } }\nsteps:\n  - remove: it\nclose-up:\n${fit}${after}`;
  const { all } = filesOfExample({ 'procedures/example.yaml': procedure(steps) });
  const library = libraryOf(Object.fromEntries(Object.entries(all).map(([path, text]) => [`/shop/${path}`, text])));
  return checkLibrary(library).flatMap(({ rule }) => (/^check\/no-(alignment|calibration)$/.test(rule) ? [rule] : []));
}

it.each([
  [
    'check/no-calibration',
    [
      'left headlamp',
      'Headlight right',
      'Scheinwerfer links',
      'front camera',
      'distance radar',
      'Frontkamera',
      'front tyre',
      'Winterreifen',
    ],
  ],
  ['check/no-alignment', ['left track rod', 'steering rack', 'Spurstange', 'lower control arm']],
  [
    null,
    [
      'headlamp bulb',
      'headlamp washer',
      'reversing camera',
      'rear lamp',
      'track cover',
      'Scheinwerferglas',
      'dash cam',
      'tyre pressure sensor',
    ],
  ],
])('%s', (rule, names) => {
  for (const name of names) expect([name, ...asked(name)]).toEqual(rule ? [name, rule] : [name]);
});

it.each([
  ['left headlamp', 'adjust: headlamp-beam\n      says: To the mark.'],
  ['left headlamp', 'test: lamps\n      says: Aim on the beam setter.'],
  ['Scheinwerfer links', 'adjust: leuchtweite\n      says: Nach Vorschrift.'],
  ['distance radar', 'reset: radar\n      says: With the target board.'],
  ['front camera', 'send: vehicle\n      for: calibration'],
  ['front tyre', 'adjust: pressure\n      says: 2.3 bar.'],
  ['Reifen', 'test: rad\n      says: Luftdruck 2,3 bar.'],
  ['left track rod', 'adjust: toe\n      says: On the rig.'],
])('%s is set by “%s”', (name, step) => {
  expect(asked(name, `final:\n  ground:\n    - ${step}\n`)).toEqual([]);
});

it('the windscreen before a camera, and no other', () => {
  const off = (name: string, other: string, after = '') =>
    asked(`${name} }, other: { name: ${other}`, after).filter((rule) => rule === 'check/no-calibration');
  for (const name of ['windscreen', 'windshield', 'Windschutzscheibe']) {
    expect(off(name, 'reversing camera')).toEqual([]);
    expect(off(name, 'front camera')).toEqual(['check/no-calibration']);
    expect(off(name, 'front camera', 'final:\n  ground:\n    - send: vehicle\n      for: camera calibration\n')).toEqual([]);
  }
  for (const name of ['windscreen wiper', 'windshield washer']) expect(off(name, 'front camera')).toEqual([]);
});

it('what was done before it was off does not count', () => {
  const { all } = filesOfExample({
    'procedures/example.yaml': procedure(
      'parts: { it: { name: left headlamp } }\nsteps:\n  - adjust: headlamp-beam\n    says: To the mark.\n  - remove: it\nclose-up:\n  - fit: it\n',
    ),
  });
  const library = libraryOf(Object.fromEntries(Object.entries(all).map(([path, text]) => [`/shop/${path}`, text])));
  expect(checkLibrary(library).map(({ rule }) => rule)).toEqual(['check/no-calibration']);
});

it.each([
  ['diesel injectors', 'reset: codes\n      says: Cylinder by cylinder.'],
  ['Einspritzdüsen', 'reset: steuergerät\n      says: Injektoren anlernen.'],
  ['particle filter', 'reset: filter-counter\n      says: With the tester.'],
  ['Partikelfilter', 'reset: zähler\n      says: Ascheeintrag zurücksetzen.'],
  ['throttle body', 'reset: throttle\n      says: Ignition on for 30 s.'],
])('%s is told the vehicle where it is new, by “%s”', (name, step) => {
  expect(asked(name)).toEqual([]);
  expect(asked(name, '', true)).toEqual(['check/no-calibration']);
  expect(asked(name, `final:\n  ground:\n    - ${step}\n`, true)).toEqual([]);
});

it.each([
  ['rear brake shoes', true, 'adjust: shoes\n      says: The wheel just drags.'],
  ['Bremsbacken links', true, 'adjust: radbremse\n      says: Das Rad läuft gerade frei.'],
  ['parking brake cable', false, 'adjust: lever\n      says: 5 notches.'],
  ['Handbremsseil', false, 'check: hebelweg\n      says: Fünf Rasten.'],
  ['clutch cable', false, 'measure: free-play\n      says: 10 to 15 mm at the lever.'],
  ['drive chain', false, 'adjust: chain\n      says: 30 mm of slack.'],
] as const)('%s is adjusted by “%s”', (name, isNew, step) => {
  expect(asked(name, '', isNew)).toContain('check/no-calibration');
  expect(asked(name, `final:\n  ground:\n    - ${step}\n`, isNew)).not.toContain('check/no-calibration');
});

it.each(['brake shoe spring', 'chain guard', 'timing chain', 'cable clip', 'battery cable'])('%s is not adjusted', (name) => {
  expect(asked(name, '', true)).toEqual([]);
});

it.each(['injector seals', 'cabin filter', 'oil filter', 'throttle cable'])('%s is nothing that a vehicle knows', (name) => {
  expect(asked(name, '', true)).toEqual([]);
});
