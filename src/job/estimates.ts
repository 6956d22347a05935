import { whereIs } from '../findings/finding.js';
import { loadRatio, playLeft, preloadOf, turnAdds } from '../resolve/torque/plausibility.js';
import { strengthOf } from '../resolve/torque/strength.js';
import type { Joint } from '../schema/generated/compiled-job.js';
import type { Fastener } from '../schema/generated/types.js';
import { spanOf } from '../schema/origin.js';
import type { JobContext } from './context.js';
import type { Quantity } from '../quantity/quantity.js';
import { bothTorques, limitText } from './format.js';

type Estimates = Pick<Joint, 'ratio' | 'preload' | 'turned' | 'endPlay' | 'prevailing'>;

const share = (value: number): string => (value * 100).toFixed(0);
const kilonewtons = (value: number): string => (value / 1000).toFixed(1);

/** What a joint's figures mean for the bolt. Estimates, each with its working; none of them ever sets a torque. */
export function compileEstimates(context: JobContext, code: string, fastener: Fastener): Estimates {
  const at = () => whereIs(spanOf(fastener, 'stages', 'key'));
  const ratio = loadRatio(fastener);
  const preload = preloadOf(fastener);
  const turned = turnAdds(fastener);
  const play = playLeft(fastener);
  const thread = { name: 'd, P', value: fastener.thread ?? '', from: 'ISO 724' };
  if (ratio !== null) {
    context.working(() => ({
      of: `joints/${code}/ratio`,
      formula: 'r = T / (0.16 · d · A_s · S_p), an estimate; the maker’s figure stands',
      inputs: [
        { name: 'T', value: 'the highest plain torque of the stages', from: at() },
        { name: 'd, A_s', value: fastener.thread ?? '', from: 'ISO 724, ISO 898-1 9.1.6.1' },
        { name: 'S_p', value: fastener.class ?? '', from: strengthOf(fastener.class ?? '')?.source ?? '' },
      ],
      result: ratio.toFixed(2),
      rounding: 'two places',
    }));
  }
  if (preload) {
    context.working(() => ({
      of: `joints/${code}/preload`,
      formula: 'F = T / (0.16·P + 0.58·d2·μ + D_Km/2·μ), an estimate; the maker’s figure stands',
      inputs: [
        { name: 'T', value: `${preload.torque.toFixed(1)} N·m`, from: at() },
        thread,
        { name: 'μ', value: `${preload.friction.low} to ${preload.friction.high}`, from: preload.friction.source },
        { name: 'D_Km', value: 'hexagon head on a medium clearance hole', from: 'ISO 4014, ISO 273' },
      ],
      result: `${kilonewtons(preload.band.least)} to ${kilonewtons(preload.band.most)} kN`,
      rounding: 'one place',
    }));
  }
  if (turned) {
    context.working(() => ({
      of: `joints/${code}/turned`,
      formula: 'ΔF = θ/360 · P · k_b·k_m / (k_b + k_m), elastic, an estimate',
      inputs: [
        { name: 'θ', value: `${turned.angle}°`, from: at() },
        thread,
        { name: 'k_b', value: `${(turned.bolt / 1000).toFixed(0)} kN/mm`, from: 'Shigley 9e, equation 8-17' },
        { name: 'k_m', value: `${(turned.members / 1000).toFixed(0)} kN/mm`, from: 'Shigley 9e, section 8-5, frusta of 30°' },
      ],
      result: `${kilonewtons(turned.force)} kN`,
      rounding: 'one place',
    }));
  }
  if (play) {
    context.working(() => ({
      of: `joints/${code}/endPlay`,
      formula: 's = θ/360 · P',
      inputs: [{ name: 'θ', value: `${play.angle}°`, from: at() }, thread],
      result: play.text,
      rounding: 'three places, of inches four',
    }));
  }
  const { prevailing } = fastener;
  const limit = fastener['end-play'] ? limitText(fastener['end-play'], context.words) : '';
  return {
    ratio: ratio === null ? null : Math.round(ratio * 100) / 100,
    preload: preload && {
      friction: `${preload.friction.low} to ${preload.friction.high}`,
      source: preload.friction.source,
      least: kilonewtons(preload.band.least),
      most: kilonewtons(preload.band.most),
      leastShare: share(preload.band.leastShare),
      mostShare: share(preload.band.mostShare),
    },
    turned: turned && `${kilonewtons(turned.force)} kN`,
    endPlay: play && `${play.text} (${limit})`,
    prevailing: prevailing ? context.words.job.prevailing(runningText(context, prevailing.torque), prevailing.counts === 'added') : null,
  };
}

/** What a locking nut runs with: in the shop's unit first, as it was written beside it. */
function runningText({ shop, words }: JobContext, torque: Quantity): string {
  const unit = shop['torque-unit'] ?? 'N·m';
  const written = limitText(torque, words);
  return torque.nominal === null || torque.unit.symbol === unit ? written : `${bothTorques(torque, unit).value} (${written})`;
}
