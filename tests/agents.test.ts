// What is put on parts: known by its names, asked for where nothing says it.
import { describe, expect, it } from 'vitest';
import { agentsCalled, verbOf } from '../src/rules/agents.js';
import schema from '../schemas/common.schema.json' with { type: 'json' };
import { baySheet } from '../src/layout/bay-sheet.js';
import { measure, wordsOn } from './helpers/paper.js';
import { compiled, demoWith, found } from './helpers/shop.js';

const { enum: agents } = schema.$defs.step.properties.agent;

describe('an agent', () => {
  it.each([
    ['windscreen-adhesive', ['adhesive']],
    ['Scheibenkleber', ['adhesive']],
    ['liquid gasket', ['sealant']],
    ['Flüssigdichtung', ['sealant']],
    ['thread-locker', ['threadlocker']],
    ['Schraubenkleber', ['adhesive', 'threadlocker']],
    ['high-temperature grease', ['mineral-grease', 'silicone-grease']],
    ['Mehrzweckfett', ['mineral-grease', 'silicone-grease']],
    ['silicone-grease', ['silicone-grease']],
    ['PAG oil', ['refrigerant-oil']],
    ['Wärmeleitpaste', ['thermal-paste']],
    ['paper gasket', []],
    ['torque wrench', []],
    ['oil-filter', []],
  ])('is known by its name: %s', (name, expected) => {
    expect(expected.length === 0 ? agentsCalled(name) : expected).toEqual(expect.arrayContaining([...agentsCalled(name)]));
    expect(agentsCalled(name).length > 0).toBe(expected.length > 0);
  });

  it('is one that the schema knows, and goes on by a verb', () => {
    expect(agents.length).toBeGreaterThan(10);
    for (const agent of agents) for (const one of agentsCalled(agent)) expect(agents).toContain(one);
    expect(['adhesive', 'primer', 'copper-paste', 'mineral-grease', 'brake-cleaner'].map(verbOf)).toEqual([
      'apply',
      'apply',
      'lubricate',
      'lubricate',
      'clean',
    ]);
  });
});

const clutch = '/shop/procedures/clutch.yaml';

describe('a step that puts something on', () => {
  const told = (step: string) =>
    found(demoWith([clutch, 'steps:\n', `steps:\n${step}`])).flatMap(({ rule, message }) => (rule === 'step/no-agent' ? [message] : []));

  it('names the part and not what goes onto it', () => {
    expect(told('  - apply: liquid-gasket\n')).toEqual([
      '`liquid-gasket` is what is put on, and nothing says where. Name the part, `apply: …`, and write `agent: sealant` beside it.',
    ]);
    expect(told('  - apply: primer\n    agent: primer\n')).toEqual([
      '`primer` is what is put on, and nothing says where. Name the part, `apply: …`.',
    ]);
    expect(told('  - lubricate: grease\n')).toEqual([
      '`grease` is what is put on, and nothing says where. Name the part, `lubricate: …`, and write `agent: …` beside it (`mineral-grease` or `silicone-grease`).',
    ]);
  });

  it('says with what, where a rule can see it', () => {
    expect(told('  - lubricate: input-shaft\n    says: A thin film of copper paste on the splines.\n')).toEqual([
      'What is put on is said in words alone, and not looked at. Write `agent:` too: `copper-paste`.',
    ]);
    expect(told('  - lubricate: input-shaft\n')).toEqual(['Nothing says with what `input-shaft` is lubricated. Write `agent:`.']);
    expect(told('  - lubricate: input-shaft\n    says: A thin film of what comes with the clutch.\n')).toEqual([]);
    expect(told('  - lubricate: input-shaft\n    agent: copper-paste\n')).toEqual([]);
  });
});

it('a wait that says twice how long it is takes that long once', () => {
  const told = (step: string) =>
    found(demoWith(['/shop/procedures/clutch.yaml', 'steps:\n', `steps:\n${step}`])).flatMap(({ rule, message }) =>
      rule === 'labour/waits-unsaid' ? [message] : [],
    );
  expect(told('  - wait: 5 h\n')).toEqual([expect.stringMatching(/ take 3\d\d min by themselves/)]);
  expect(told('  - wait: 5 h\n    unattended: 5 h\n')).toEqual(told('  - wait: 5 h\n'));
  expect(told('  - wait: 1 h\n    unattended: 5 h\n')).toEqual(told('  - wait: 5 h\n'));
});

it('stands with what it is put on in one sentence', () => {
  const sheet = (...changes: readonly (readonly [string, string, string])[]) =>
    wordsOn(
      baySheet(
        compiled(demoWith([clutch, 'steps:\n', 'steps:\n  - apply: flywheel\n    agent: primer\n'], ...changes), '2047-clutch'),
        measure,
      ),
    );
  expect(sheet()).toMatch(/Apply primer to [a-z -]*flywheel/);
  expect(sheet()).not.toContain('with primer');
  expect(sheet(['/shop/jobs/2047-clutch.yaml', 'kind: job\n', 'kind: job\nlanguage: de\n'])).toMatch(
    /Haftgrund auftragen: [a-z -]*flywheel/,
  );
});
