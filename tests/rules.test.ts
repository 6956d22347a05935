import { describe, expect, it } from 'vitest';
import { checkLibrary } from '../src/compile.js';
import { readDocument } from '../src/library/document.js';
import { index } from '../src/library/library.js';
import { RuleContext } from '../src/rules/context.js';
import { filesOfExample } from '../src/rules/example-library.js';
import { allRules } from '../src/rules/index.js';
import type { Example } from '../src/rules/rule.js';
import { Shared } from '../src/rules/shared.js';
import { placeOf } from '../src/source/source.js';
import { demoTexts, demoWith, found, libraryOf } from './helpers/shop.js';

/** What the checker finds in an example, as `rule @ file:line`, infos of other rules included. */
function findingsOf(example: Example): string[] {
  const { all } = filesOfExample(example);
  const files = Object.entries(all).map(([path, text]) => readDocument({ path, text }, path.startsWith('baywright:')));
  return checkLibrary(index('/shop', files)).map(
    (finding) => `${finding.rule} @ ${finding.span.file.path}:${placeOf(finding.span.file, finding.span.start).line}`,
  );
}

function markedLine(example: Example): string {
  const { all, own } = filesOfExample(example);
  for (const path of own) {
    const line = (all[path] ?? '').split('\n').findIndex((text) => text.includes('# <-'));
    if (line >= 0) return `${path}:${line + 1}`;
  }
  throw new Error('the bad example marks no line with # <-');
}

describe.each(allRules.map((rule) => [rule.name, rule] as const))('%s', (_name, rule) => {
  it('finds exactly its bad example, at the marked line', () => {
    expect(findingsOf(rule.bad)).toEqual([`${rule.name} @ ${markedLine(rule.bad)}`]);
  });
  it('is silent on its good example, and so is every other rule', () => {
    expect(findingsOf(rule.good)).toEqual([]);
  });
  it('says what, why and how to mend', () => {
    for (const words of [rule.finds, rule.why, rule.mend]) expect(words.length).toBeGreaterThan(10);
    expect(rule.name).toMatch(/^[a-z]+\/[a-z0-9-]+$/);
  });
});

it('a rule that says what it looks at goes through nothing else', () => {
  const library = libraryOf(demoTexts());
  const shared = new Shared(library);
  const lists = ['subjects', 'works', 'steps', 'phrased', 'plans', 'places', 'placesOf', 'fasteners', 'vehicles', 'jobs', 'catalogues'];
  /** What is wrong in walks is only in plans that have trouble. */
  const ofTroubled = ['troubled', 'problems', 'leftOpen'];
  let looked = 0;
  for (const { document } of library.standing) {
    if (!document) continue;
    for (const { name, looksAt, check } of allRules) {
      if (!looksAt || !check) continue;
      const asked = new Set<string>();
      const context = new Proxy(new RuleContext(shared, [document]), {
        get(target, key) {
          if (typeof key === 'string' && lists.includes(key)) asked.add(key);
          if (typeof key === 'string' && ofTroubled.includes(key)) asked.add('troubled');
          return Reflect.get(target, key, target);
        },
      });
      check(context, () => {});
      expect([name, ...asked]).toEqual([name, looksAt]);
      looked++;
    }
  }
  expect(looked).toBeGreaterThan(1000);
});

describe('a gate that a profile names', () => {
  const told = (gate: string) =>
    found(demoWith(['/shop/vehicles/sillane-16.yaml', 'due-before: [turn engine]', `due-before: [${gate}]`])).filter(
      ({ rule }) => rule === 'gate/unknown-gate',
    );
  it.each(['turn engine', 'turn', ' crank  engine ', 'fit timing-belt', 'drive', 'fill coolant'])('%j can be one', (gate) => {
    expect(told(gate)).toEqual([]);
  });
  it.each(['tunr engine', 'engine', 'turn engnie', 'turn engine over', 'fit timing-blet', 'fill coolnat'])('%j can not', (gate) => {
    expect(told(gate)).toHaveLength(1);
  });
});

describe('where no vehicle is known', () => {
  const isWork = (text: string) => /^kind: (procedure|preparation)$/m.test(text);
  const texts = Object.fromEntries(
    Object.entries(demoTexts()).flatMap(([name, text]) =>
      name.startsWith('/shop/jobs/') ? [] : [[name, isWork(text) && name.startsWith('/shop/') ? text.replace(/^for: .*\n/m, '') : text]],
    ),
  );
  const found = (changed: Readonly<Record<string, string>>) => checkLibrary(libraryOf({ ...texts, ...changed }));

  it('good procedures are told to say one, and nothing else', () => {
    const procedures = Object.entries(texts).filter(([name, text]) => name.startsWith('/shop/') && /^kind: procedure$/m.test(text));
    expect(procedures.length).toBeGreaterThan(8);
    expect(found({}).map(({ rule, span }) => `${rule} ${span.file.path}`)).toEqual(
      procedures.map(([name]) => `reference/no-vehicle ${name.slice('/shop/'.length)}`).sort(),
    );
  });

  it('what is taken off and not put back is found all the same, at its line', () => {
    const name = '/shop/procedures/clutch.yaml';
    for (const part of ['starter', 'gearbox-mount']) {
      const text = (texts[name] ?? '').replace(`  - fit: ${part}\n`, '');
      const errors = found({ [name]: text }).filter(({ severity }) => severity === 'error');
      expect(errors.map(({ rule, span }) => `${rule} ${span.file.path}:${placeOf(span.file, span.start).line}`)).toEqual([
        `ledger/left-open procedures/clutch.yaml:${text.split('\n').indexOf(`  - remove: ${part}`) + 1}`,
      ]);
    }
  });

  it('so it is in a preparation that nothing needs yet', () => {
    const text =
      'kind: preparation\nid: shelf-out\nname: Shelf out\nsteps:\n  - remove: shelf\n  - open: flap\nclose-up:\n  - close: flap\n';
    const name = 'procedures/shelf-out.yaml';
    expect(found({ [`/shop/${name}`]: `${text}  - fit: shelf\n` }).filter(({ span }) => span.file.path === name)).toEqual([]);
    const told = found({ [`/shop/${name}`]: text }).filter(({ span }) => span.file.path === name);
    expect(told.map(({ rule, span }) => `${rule} ${placeOf(span.file, span.start).line}`)).toEqual(['ledger/left-open 5']);
  });

  it('what others need is walked with them, on their vehicle: what may stay there is known only then', () => {
    const chocked =
      'kind: preparation\nid: chocked\nname: Chocked\nsteps:\n  - place: wheel-chocks\n    count: 2\nfinal:\n  running:\n    - start: engine\n      warning: Hands clear.\n    - stop: engine\n  ground:\n    - clear: wheel-chocks\n      count: 2\n';
    const hub = '/shop/procedures/hub-bearing-adjustment.yaml';
    const needing = (demoTexts()[hub] ?? '').replace('needs:\n', 'needs:\n  - chocked\n');
    const told = (changed: Readonly<Record<string, string>>) =>
      checkLibrary(libraryOf({ ...demoTexts(), '/shop/procedures/chocked.yaml': chocked, ...changed })).flatMap(({ rule, span }) =>
        span.file.path.endsWith('chocked.yaml') ? [rule] : [],
      );
    expect(told({})).toContain('gate/too-early');
    expect(told({ [hub]: needing })).not.toContain('gate/too-early');
  });

  it('a parameter that nobody fills in stands for itself, with a vehicle or without', () => {
    const shipped = texts['/shipped/wheels-off.yaml'] ?? '';
    for (const vehicle of ['', 'for: marn-20\n']) {
      const whole = shipped.replace('id: wheels-off\n', `id: two-wheels-off\n${vehicle}`);
      const cut = whole.replace(/ {4}- fit: \$wheels\n.*\n/, '');
      expect(cut.split('\n').length).toBe(whole.split('\n').length - 2);
      const name = 'procedures/two-wheels-off.yaml';
      const told = (text: string) => found({ [`/shop/${name}`]: text }).filter(({ span }) => span.file.path === name);
      expect(told(whole)).toEqual([]);
      expect(told(cut).map(({ rule, message }) => `${rule} ${message.slice(0, 8)}`)).toEqual(['ledger/left-open `$wheels']);
    }
  });
});

describe('on a vehicle that it is not written for', () => {
  const all = demoTexts();
  const order = '/shop/jobs/2046-timing-belt.yaml';
  /** Errors as rule, line and words, with some texts changed and added. */
  const found = (changed: Readonly<Record<string, string>>) =>
    checkLibrary(libraryOf({ ...all, ...changed }))
      .filter(({ severity }) => severity === 'error')
      .map(({ rule, span, message }) => `${rule} ${span.file.path}:${placeOf(span.file, span.start).line} ${message}`);
  const lineOf = (name: string, words: string) => (all[name] ?? '').split('\n').findIndex((line) => line.startsWith(words)) + 1;
  const preparation = (id: string, head: string) => `kind: preparation\nid: ${id}\nname: ${id}\n${head}steps:\n  - inspect: leaks\n`;
  const needing = (name: string, need: string) => (all[name] ?? '').replace(/^needs: \[/m, `needs: [${need}, `);
  const clutch = '/shop/procedures/clutch.yaml';

  it('work is told once, at the job, in each of its ways, and not as so many unknown names', () => {
    const job = all[order] ?? '';
    const told = (changed: string) => found({ [order]: changed });
    const words = '`clutch` is written for `marn-20`, and this job is on `sillane-16`.';
    const first = told(job.replace(/^work: .*/m, 'work: [clutch]').replace(/^renew: .*\n/m, ''));
    expect(first).toEqual([
      expect.stringContaining(`reference/other-vehicle jobs/2046-timing-belt.yaml:${lineOf(order, 'work:')} ${words}`),
    ]);
    const way = told(job.replace('work: [sillane-timing-belt], renew: [engine-mount]', 'work: [clutch]'));
    expect(way).toEqual([
      expect.stringContaining(`reference/other-vehicle jobs/2046-timing-belt.yaml:${lineOf(order, '  belt-only')} ${words}`),
    ]);
  });

  it('so is what is needed, and what that needs in turn', () => {
    const line = lineOf(clutch, 'needs:');
    expect(found({ [clutch]: needing(clutch, 'undertray-off') })).toEqual([
      expect.stringContaining(
        `reference/other-vehicle procedures/clutch.yaml:${line} \`undertray-off\` is written for \`tarrock-35\`, and this is done on \`marn-20\`.`,
      ),
    ]);
    const way = { '/shop/procedures/way-in.yaml': preparation('way-in', 'needs: [undertray-off]\n') };
    expect(found({ ...way, [clutch]: needing(clutch, 'way-in') })).toEqual([
      expect.stringContaining(
        `reference/other-vehicle procedures/clutch.yaml:${line} \`way-in\` needs \`undertray-off\`, which is written for \`tarrock-35\``,
      ),
    ]);
    const its = { '/shop/procedures/way-in.yaml': preparation('way-in', 'for: marn-20\nneeds: [undertray-off]\n') };
    expect(found({ ...its, [clutch]: needing(clutch, 'way-in') })).toEqual([
      expect.stringContaining('reference/other-vehicle procedures/way-in.yaml:5 `undertray-off` is written for `tarrock-35`'),
    ]);
  });

  it('what is written for several is meant for each of them', () => {
    const both = { '/shop/procedures/way-in.yaml': preparation('way-in', 'for: [tarrock-35, marn-20]\n') };
    expect(found({ ...both, [clutch]: needing(clutch, 'way-in') })).toEqual([]);
  });

  it('a vehicle that nobody knows is told where it is written, and nowhere else', () => {
    const slip = { [clutch]: (all[clutch] ?? '').replace('for: marn-20', 'for: marn-21') };
    expect(found(slip).map((one) => one.split(' ').slice(0, 2).join(' '))).toEqual([
      `reference/unknown-vehicle procedures/clutch.yaml:${lineOf(clutch, 'for:')}`,
    ]);
  });

  it('a circle of needs is told as one', () => {
    const circle = {
      '/shop/procedures/way-in.yaml': preparation('way-in', 'needs: [way-out]\n'),
      '/shop/procedures/way-out.yaml': preparation('way-out', 'needs: [way-in]\n'),
    };
    expect(found({ ...circle, [clutch]: needing(clutch, 'way-in') }).map((one) => one.split(' ')[0])).toContain('reference/circle');
  });
});
