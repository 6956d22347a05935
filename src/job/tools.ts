import { asList } from '../library/scope.js';
import { inOrder } from '../order.js';
import { parseDrive } from '../resolve/torque/head-sizes.js';
import type { CompiledJob } from '../schema/generated/compiled-job.js';
import type { JobContext } from './context.js';
import { limitText } from './format.js';
import type { CompiledJoints } from './joints.js';

/** The name of a tool for people: as the shop has it, else its key without hyphens, else as it is written. */
export const toolName = ({ shop }: JobContext, id: string): string =>
  shop.tools?.[id]?.name ?? (id.includes(' ') ? id : id.replaceAll('-', ' '));

/** Whether what is held against a joint is a spanner or key by its size, and no tool of the shop. */
const isSpanner = ({ shop }: JobContext, hold: string): boolean => !shop.tools?.[hold] && parseDrive(hold) !== null;

/** What is held against a joint, for people. */
export const holderName = (context: JobContext, hold: string): string =>
  isSpanner(context, hold) ? context.words.drive(hold) : toolName(context, hold);

/** What an instrument may be called that is a tool of the shop: by its key, with hyphens or not, or by its name. */
export const toolNames = (id: string, name: string | undefined): readonly string[] => [id, id.replaceAll('-', ' '), name ?? id];

const toolCalled = ({ shop }: JobContext, called: string): string | undefined =>
  Object.entries(shop.tools ?? {}).find(([id, { name }]) => toolNames(id, name).includes(called))?.[0];

/** Special tools and instruments that the steps name, with how many pieces: what goes in must come out. */
export function compileTools(context: JobContext, joints: CompiledJoints): CompiledJob['tools'] {
  const tools = context.shop.tools ?? {};
  const stages = joints.joints.flatMap((joint) => joint.stages.slice(joint.firstStage - 1));
  const torqueIds = [...new Set(stages.flatMap((stage) => (stage.kind === 'torque' && stage.tool ? [stage.tool] : [])))].sort();
  const wanted = new Set<string>();
  for (const step of context.plan.steps) {
    for (const id of step.step.with ?? []) wanted.add(id);
    for (const object of step.verb === 'measure' ? step.objects : []) {
      const instrument = step.participant.scope.measurements.get(object)?.with;
      if (instrument) wanted.add(toolCalled(context, instrument) ?? instrument);
    }
    for (const object of step.verb === 'place' ? step.objects : []) {
      const tool = step.participant.scope.temporaries.get(object)?.tool;
      if (tool) wanted.add(tool);
    }
  }
  const drives = new Set(joints.joints.flatMap((joint) => asList(joint.drive ?? undefined)));
  for (const { adapter, 'counter-hold': hold } of joints.fasteners.values()) {
    if (adapter) wanted.add(adapter);
    if (hold && isSpanner(context, hold)) drives.add(hold);
    else if (hold) wanted.add(hold);
  }
  if (stages.some((stage) => stage.kind === 'angle'))
    for (const [id, tool] of Object.entries(tools)) if (tool.type === 'angle-gauge') wanted.add(id);
  return {
    torque: torqueIds.map((id) => {
      const tool = tools[id];
      return {
        id,
        name: tool?.name ?? id,
        range: tool?.range ? limitText(tool.range, context.words) : '',
        due: tool?.due ?? null,
        certificate: tool?.certificate ?? null,
        drawer: tool?.drawer ?? null,
        stages: stages.filter((stage) => stage.tool === id).length,
      };
    }),
    special: [...wanted].sort().map((id) => ({
      id,
      name: toolName(context, id),
      pieces: tools[id]?.pieces ?? 1,
      drawer: tools[id]?.drawer ?? null,
    })),
    drives: [...drives].sort(inOrder),
  };
}
