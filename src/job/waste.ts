import type { Decimal } from 'decimal.js';
import { didYouMean } from '../findings/suggest.js';
import { convert, D, unitOf } from '../quantity/units.js';
import { moneyText, roundMoney } from '../resolve/price/money.js';
import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { isDamaged, spanOf } from '../schema/origin.js';
import type { JobContext } from './context.js';
import { plainNumber } from './format.js';
import { volumeInShopUnit } from './shop-unit.js';

/** What leaves the vehicle as waste, by class: amount, fee, and where it goes. */
export function compileWaste(
  context: JobContext,
  fluids: ReadonlyMap<string, Decimal>,
  pieces: ReadonlyMap<string, number>,
): CompiledJob['waste'] {
  for (const id of fluids.keys()) tellUnit(context, id, 'L');
  for (const id of pieces.keys()) tellUnit(context, id, 'piece');
  const all = new Map<string, Decimal>(fluids);
  for (const [name, count] of pieces) all.set(name, (all.get(name) ?? new D(0)).plus(count));
  return [...all].flatMap(([id, amount]) => {
    const known = context.shop.waste?.[id];
    if (!known) {
      if (isDamaged(context.shop)) return [];
      context.report(
        'price/unknown-waste',
        `The shop's waste list has no class \`${id}\`${saidOf(context, id)}.${didYouMean(id, Object.keys(context.shop.waste ?? {}))} Add it under \`waste:\` of shop.yaml, or correct the name.`,
        spanOf(context.shop, 'waste', 'key'),
        'warning',
        id,
      );
      return [];
    }
    const per = known.per ?? 'L';
    const charged = isVolume(per) ? convert(amount, unitOf('L'), unitOf(per)) : amount;
    const fee = known.fee ? roundMoney(known.fee.times(charged), context.shop.currency) : new D(0);
    return [
      {
        class: id,
        name: known.name,
        code: known.code ?? null,
        amount: plainNumber(charged, 2),
        unit: per,
        ...(per === 'L' && volumeInShopUnit(context, amount)),
        fee: moneyText(fee, context.shop.currency),
        to: known.to ?? null,
        vessel: known.vessel?.text ?? null,
      },
    ];
  });
}

const isVolume = (per: string): boolean => per !== 'piece' && unitOf(per).dimension === 'volume';

/** What goes into a class, as far as fluids and parts say so. */
function saidOf({ plan: { scope } }: JobContext, waste: string): string {
  const going = [...scope.fluids, ...scope.parts].flatMap(([id, one]) => (one.waste === waste ? [`\`${id}\``] : []));
  return going.length === 0
    ? ''
    : `, where ${going.slice(0, 3).join(', ')}${going.length > 3 ? ' and others go' : going.length === 1 ? ' goes' : ' go'}`;
}

/** A class that is charged by another unit than what becomes waste here is counted in. */
function tellUnit(context: JobContext, id: string, unit: 'L' | 'piece'): void {
  const known = context.shop.waste?.[id];
  const per = known?.per ?? 'L';
  if (!known || per === unit || (unit === 'L' && isVolume(per)) || isDamaged(known)) return;
  context.report(
    'price/waste-unit',
    `What becomes waste of the class \`${id}\` here is counted in ${unit === 'L' ? 'litres' : 'pieces'}, and the shop charges it per ${per}. Write \`per: ${unit}\` with the fee for that, or give it a class of its own.`,
    known.per ? spanOf(known, 'per') : spanOf(context.shop.waste ?? context.shop, id, 'key'),
    'error',
    id,
  );
}
