import type { CompiledJob } from '../../src/schema/generated/compiled-job.js';

/** What in a compiled job contradicts something else in it; nothing where it is right. */
export function contradictionsIn(job: CompiledJob): string[] {
  return [...inSteps(job), ...inJoints(job), ...inParts(job), ...inSums(job)];
}

function* inSteps({ steps, ledger, measurements }: CompiledJob): Iterable<string> {
  for (const [index, step] of steps.entries()) {
    if (step.n !== index + 1) yield `step ${step.n} is the ${index + 1}th`;
    for (const { name, partner } of step.opens) {
      const closing = partner === null ? undefined : steps[partner - 1];
      if (closing && (closing.n <= step.n || !closing.closes.some((one) => one.name === name)))
        yield `step ${step.n} opens ${name}, and ${closing.n} does not close it`;
    }
    for (const { name, partner } of step.closes)
      if (!steps[(partner ?? 0) - 1]?.opens.some((one) => one.name === name))
        yield `step ${step.n} closes ${name}, and ${partner} does not open it`;
    for (const code of step.measurements)
      if (!measurements.some((one) => one.code === code)) yield `step ${step.n} measures an unknown ${code}`;
  }
  const closed = ledger.lines.filter((line) => line.closed !== null).length;
  if (ledger.opened !== ledger.lines.length || ledger.closed !== closed) yield 'the ledger counts other lines than it has';
  if (steps.at(-1)?.openAfter !== ledger.opened - ledger.closed) yield 'the last step leaves another number open than the ledger';
}

function* inJoints({ steps, joints, tools }: CompiledJob): Iterable<string> {
  const done = new Set(steps.flatMap((step) => step.torque.flatMap(({ joint, stages }) => stages.map((stage) => `${joint}/${stage}`))));
  for (const step of steps)
    if ((step.verb === 'tighten' || step.verb === 're-torque') && step.torque.every(({ stages }) => stages.length === 0))
      yield `step ${step.n} tightens, and no figure stands there`;
  for (const { code, stages, firstStage } of joints)
    for (const stage of stages.slice(firstStage - 1)) {
      if (!stage.after && !done.delete(`${code}/${stage.n}`)) yield `${code}, stage ${stage.n} is done at no step`;
      if (stage.kind === 'torque' && !tools.torque.some((tool) => tool.id === stage.tool)) yield `${code}: ${stage.tool} is not fetched`;
    }
  for (const key of done)
    if (!joints.some(({ code, stages }) => stages.some((stage) => `${code}/${stage.n}` === key))) yield `${key} is no stage`;
  const fetched = new Set([...tools.special, ...tools.torque].map((tool) => tool.id));
  for (const step of steps) for (const { id } of step.with) if (!fetched.has(id)) yield `step ${step.n}: ${id} is not fetched`;
}

function* inParts({ steps, parts }: CompiledJob): Iterable<string> {
  const taken = new Map<string, number>();
  for (const step of steps) if (!step.onlyIf) for (const { item, count } of step.parts) taken.set(item, (taken.get(item) ?? 0) + count);
  const names = new Set([...taken.keys(), ...parts.demand.map((one) => one.item)]);
  for (const item of names) {
    const wanted = parts.demand.find((one) => one.item === item)?.count ?? 0;
    // What is changed with another part may have no step of its own.
    const companion = parts.demand.some((one) => one.item === item && one.for.some((why) => why.startsWith('changed with ')));
    if (!companion && wanted !== (taken.get(item) ?? 0)) yield `${wanted} × ${item} are ordered and ${taken.get(item) ?? 0} go in`;
  }
}

const cents = (amounts: readonly string[]): number => amounts.reduce((sum, one) => sum + Math.round(Number(one) * 100), 0);

function* inSums({ quote, parts }: CompiledJob): Iterable<string> {
  if (cents(quote.lines.map((line) => line.amount)) !== cents([quote.net])) yield 'the lines are not the net amount';
  if (cents([quote.net, ...quote.taxes.map((one) => one.amount)]) !== cents([quote.gross])) yield 'net and taxes are not the total';
  if (cents(parts.buy.map((one) => one.amount)) !== cents([parts.total])) yield 'what is bought is not the total of the parts';
}
