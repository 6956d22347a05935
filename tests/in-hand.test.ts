// What is renewed while it is off is new when it goes on, though that step does not say so again.
import { expect, it } from 'vitest';
import { checkLibrary } from '../src/compile.js';
import { demoWith } from './helpers/shop.js';

const [hub, pellan] = ['/shop/procedures/hub-bearing.yaml', '/shop/vehicles/pellan-14.yaml'];
const chain = 'drive-chain: { name: drive chain, role: belt, item: pad-set }';
const told = (renew: string, says = '') =>
  checkLibrary(
    demoWith(
      [pellan, 'parts:\n', `parts:\n  ${chain}\n`],
      [hub, 'steps:\n', `steps:\n  - remove: drive-chain\n${renew}`],
      [hub, 'close-up:\n', `close-up:\n  - fit: drive-chain\n${says}`],
    ),
  ).flatMap(({ rule }) => (rule === 'parts/said-new' || rule === 'check/not-marked' ? [rule] : []));
const saysNew = '    says: The new chain, its link riveted.\n';

it('is not told to be marked, or to be ordered', () => {
  expect(told('  - renew: drive-chain\n', saysNew)).toEqual([]);
  expect(told('').sort()).toEqual(['check/not-marked']);
  expect(told('', saysNew).sort()).toEqual(['check/not-marked', 'parts/said-new']);
});

it('is old where it came off again after it was renewed', () => {
  const again = '  - renew: drive-chain\n  - fit: drive-chain\n  - remove: drive-chain\n';
  expect(told(again, saysNew)).toContain('parts/said-new');
});
