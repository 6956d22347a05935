import { didYouMean, isTypo, Names, nearest, oneOf } from '../../findings/suggest.js';
import { toolNames } from '../../job/tools.js';
import type { ShopDocument, WorkDocument } from '../../library/document.js';
import { isShipped } from '../../library/library.js';
import { namesWritten } from '../../library/written.js';
import { once } from '../../once.js';
import { parseDrive } from '../../resolve/torque/head-sizes.js';
import { writtenIn } from '../../plan/written.js';
import { spanOf } from '../../schema/origin.js';
import { agentsCalled, verbOf } from '../agents.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

const tools = new WeakMap<ShopDocument, Names>();
const toolsOf = (shop: ShopDocument): Names => once(tools, shop, () => new Names(namesWritten(shop.tools)));

const instruments = new WeakMap<ShopDocument, Names>();

/** The tool, by its key or its name, for which the name of an instrument is a slip; instruments of other names are the reader's own. */
function instrumentMeant(shop: ShopDocument, name: string): string | undefined {
  const known = once(instruments, shop, () => new Names(Object.entries(shop.tools ?? {}).flatMap(([id, { name }]) => toolNames(id, name))));
  return !known.has(name) && isTypo(name, known) ? nearest(name, known) : undefined;
}

const used = new WeakMap<WorkDocument, readonly string[]>();

/** The tools that the steps of a document use: of those that ship with the tool, which many procedures need. */
const toolsOfSteps = (document: WorkDocument): readonly string[] =>
  once(used, document, () => writtenIn(document).all.flatMap(({ step }) => step.with ?? []));

/** What to do about a tool of a preparation that ships with the tool: a lift of another name is one too. */
function inTheList({ tools }: ShopDocument, name: string): string {
  const same = Object.entries(tools ?? {}).find(([, { type }]) => type === name);
  return same
    ? `There is \`${same[0]}\`, a ${name}: call it \`${name}\`, or write a preparation of the same id, with your own.`
    : `Add it, if only as \`${name}: { type: special }\`.`;
}

/** Told of a tool that is none but is used up, whatever it is called. */
function toldAsAgent(name: string): string | undefined {
  const agents = agentsCalled(name);
  const [agent] = agents;
  if (agent === undefined) return undefined;
  return `\`${name}\` is used up, and no tool of the list. Write a step \`${verbOf(agent)}: …\` with \`agent:\` ${oneOf(agents)}.`;
}

export const rule: Rule = {
  name: 'reference/unknown-tool',
  severity: 'error',
  finds: "A special tool, adapter or counter-hold that the shop's tool list does not have.",
  why: 'The technician stands there without it.',
  mend: 'Correct the name, or add the tool to shop.yaml.',
  bad: procedure('steps:\n  - inspect: leaks\n    with: [gaugee] # <-\n'),
  good: procedure('steps:\n  - inspect: leaks\n    with: [gauge]\n'),
  check(context, tell) {
    const { shop } = context.library;
    if (shop?.tools) {
      const known = toolsOf(shop);
      const told = (name: string) => `The shop has no tool \`${name}\`.${didYouMean(name, known)} Add it under \`tools:\` in shop.yaml.`;
      for (const { document, step } of context.steps)
        if (step.with && !isShipped(document))
          for (const [index, name] of step.with.entries())
            if (!known.has(name)) tell({ span: spanOf(step.with, index), message: toldAsAgent(name) ?? told(name) });
      for (const { group } of context.fasteners) {
        if (group.adapter !== undefined && !known.has(group.adapter))
          tell({ span: spanOf(group, 'adapter'), message: told(group.adapter) });
        const hold = group['counter-hold'];
        if (hold !== undefined && !known.has(hold) && !parseDrive(hold))
          tell({
            span: spanOf(group, 'counter-hold'),
            message: `${told(hold)} Of a spanner or key its size is enough: \`17 AF open\`, \`6 hex key\`.`,
          });
      }
      for (const vehicle of context.vehicles)
        for (const one of Object.values(vehicle.temporaries ?? {}))
          if (one.tool !== undefined && !known.has(one.tool)) tell({ span: spanOf(one, 'tool'), message: told(one.tool) });
      for (const document of [...context.vehicles, ...context.works])
        for (const one of Object.values(document.measurements ?? {})) {
          const meant = one.with === undefined ? undefined : instrumentMeant(shop, one.with);
          if (meant !== undefined)
            tell({
              span: spanOf(one, 'with'),
              severity: 'warning',
              message: `The shop has no instrument \`${one.with}\`. Did you mean \`${meant}\`? The tool list says where that is.`,
            });
        }
      for (const { plan } of context.plans)
        for (const { document } of plan.participants)
          if (isShipped(document))
            for (const name of toolsOfSteps(document))
              if (!known.has(name))
                tell({
                  span: spanOf(shop, 'tools', 'key'),
                  about: name,
                  severity: 'warning' as const,
                  message: `The preparation \`${document.id}\` uses the tool \`${name}\`, and the shop's list does not have it. ${inTheList(shop, name)}`,
                });
    }
  },
};
