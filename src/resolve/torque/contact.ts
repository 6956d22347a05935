import type { Stage } from '../../schema/generated/types.js';

/**
 * The stage that turns from where the fastener or its washer touches, as of filters, plugs and flare nuts; undefined where a
 * torque comes before any angle: then angles count from that.
 */
export function stageFromContact(stages: readonly Stage[] | undefined): Stage | undefined {
  const first = stages?.find((stage) => stage.angle ?? stage.torque ?? stage.window ?? stage.ladder);
  return first?.angle ? first : undefined;
}

/** Whether something is tightened to a torque. */
export const hasTorque = (stages: readonly Stage[] | undefined): boolean =>
  stages?.some((stage) => stage.torque ?? stage.window ?? stage.ladder) ?? false;
