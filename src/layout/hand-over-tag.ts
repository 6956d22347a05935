import type { VerbName } from '../ledger/verbs.js';
import { once } from '../once.js';
import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { type Block, blanks, framed, heading, leastStyle, paragraph, space, stack, strongStyle } from './blocks.js';
import { table } from './rows.js';
import type { Measure, Paper } from './page.js';
import { contentWidth } from './paginate.js';
import { paperOf } from './paper.js';
import { settingOf } from './setting.js';
import { rule, sizes } from './style.js';

/**
 * The tag that hangs on a vehicle when work stops after a step: what is still in there or switched off, what is open,
 * what must not be done, what comes next, and whether it is safe to leave.
 * @param after number of the last step done
 */
export function handOverTag(job: CompiledJob, measure: Measure, after: number): Paper {
  const width = contentWidth(job.shop.paper);
  const set = settingOf(job, measure);
  const { tag, safe, notSafe } = set.words;
  const open = job.ledger.lines.filter((line) => line.opened <= after && (line.closed === null || line.closed > after));
  const loose = job.ledger.loose.filter((one) => one.fitted <= after && (one.tight === null || one.tight > after));
  const inThere = open.filter((line) => line.temporary);
  const isOff = (line: (typeof open)[number]) => line.verb === 'switch-off' || line.verb === 'isolate';
  // Of one thing several may be true, as of an axle that is raised and supported.
  const nameOf = (line: (typeof open)[number]): string => {
    if (isOff(line)) return tag.off(line.name);
    const several = open.some((other) => other !== line && other.name === line.name);
    return several ? `${line.name}, ${set.words.done[line.verb as VerbName] ?? line.verb}` : line.name;
  };
  const states = open.filter((line) => !line.temporary);
  const last = job.steps[after - 1];
  const next = job.steps[after];
  const forbidden = new Map<string, Set<string>>();
  for (const one of [...open, ...loose]) for (const action of one.before) once(forbidden, action, () => new Set()).add(one.name);
  const few = (names: readonly string[]): string =>
    names.length > 4 ? tag.more(names.slice(0, 3).join(', '), names.length - 3) : names.join(', ');
  const title = { size: sizes.title, weight: 'bold' as const };
  const running = last?.runsSince ?? null;
  const engine = running === null ? [] : [paragraph(set, tag.runs(running), width - 16, strongStyle)];
  const blocks: Block[] = [
    paragraph(set, tag.stopped(after), width, title),
    paragraph(set, last ? last.sentence : '', width, strongStyle),
    space(4),
    framed(stack([paragraph(set, last?.safeToLeave ? safe : notSafe, width - 16, title), ...engine], 2), width, 6, rule.heavy),
    space(5),
  ];
  if (forbidden.size > 0) {
    const rows = [...forbidden].map(([action, names]) => paragraph(set, tag.forbidden(action, few([...names])), width - 16));
    const head = paragraph(set, tag.doNot, width - 16, { size: sizes.heading, weight: 'bold' });
    const joints = loose.map(({ joint, name, tight }) => tag.joint(joint ? `${joint} ${name}` : name, tight));
    const notTight = joints.length > 0 ? [paragraph(set, tag.loose(joints.join(', ')), width - 16, strongStyle)] : [];
    blocks.push(framed(stack([head, ...rows, ...notTight], 1), width, 6, rule.heavy), space(5));
  }
  const goOn = next ? `${tag.step(next.n, next.sentence)}${next.people > 1 ? ` ${tag.persons(next.people)}` : ''}` : tag.done;
  blocks.push(heading(set, tag.next, width), paragraph(set, goOn, width, { size: sizes.step, weight: 'bold' }), space(3));
  const signed = [
    { key: `hand-over/${after}/by`, label: tag.by, width: 90 },
    { key: `hand-over/${after}/to`, label: tag.to, width: 90 },
    { key: `hand-over/${after}/when`, label: tag.when, width: 90 },
  ];
  // Before the lists: who hands over and who takes over sign on the first page, however much is open.
  blocks.push(blanks(set, signed, width, 6), space(3));
  const columns = [
    { title: tag.columns.what, share: 4.4 },
    { title: tag.columns.until, share: 1 },
  ];
  // Three banks beside each other, so that the tag stays one page.
  const banks = (entries: readonly { readonly what: string; readonly since: number; readonly until: number | null }[]): Block[] => {
    const cells = entries.map(({ what, since, until }) => [`${what}, ${since}`, until === null ? '—' : String(until)]);
    const third = Math.ceil(cells.length / 3);
    const rows = Array.from({ length: third }, (_, index) => [0, 1, 2].flatMap((bank) => cells[index + bank * third] ?? ['', '']));
    return table(set, [...columns, ...columns, ...columns], rows, width, leastStyle);
  };
  const entryOf = (line: (typeof open)[number]) => ({
    what: `${nameOf(line)}${line.count && line.count > 1 ? ` (${line.count})` : ''}`,
    since: line.opened,
    until: line.closed,
  });
  if (inThere.length > 0)
    blocks.push(
      heading(set, (inThere.some(isOff) ? tag.stillInOrOff : tag.stillIn)(inThere.length), width),
      ...banks(inThere.map(entryOf)),
      space(3),
    );
  if (states.length > 0) blocks.push(heading(set, tag.open(states.length), width), ...banks(states.map(entryOf)), space(4));
  if (open.length === 0 && loose.length === 0) blocks.push(paragraph(set, tag.nothing, width, strongStyle), space(6));
  const named = set.words.afterStep(set.words.title(set.words.paper['hand-over-tag'], job.number), after);
  return paperOf(job, set, 'hand-over-tag', blocks, { title: named });
}
