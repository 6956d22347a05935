import { isGateByTable } from '../ledger/gates.js';
import type { Finding } from '../findings/finding.js';
import type { Allowed } from '../findings/control.js';
import { whereIs } from '../findings/finding.js';
import { numberOfJob } from '../library/card.js';
import type { JobDocument, ShopDocument } from '../library/document.js';
import type { Library } from '../library/library.js';
import { waysOf } from '../library/variants.js';
import { wantedOf } from '../plan/needs.js';
import { otherWays, planJob } from '../plan/merge.js';
import { outcomesOf } from '../plan/outcomes.js';
import type { Plan, PlanStep } from '../plan/plan.js';
import { D } from '../quantity/units.js';
import { moneyText } from '../resolve/price/money.js';
import type { CompiledJob, Working } from '../schema/generated/compiled-job.js';
import { fileWith } from '../schema/origin.js';
import { asSentence, languageOf, wordsOf } from '../words/words.js';
import type { JobContext } from './context.js';
import { digestOf } from './digest.js';
import { compileBleeding } from './bleeding.js';
import { compileCharges } from './charges.js';
import { addedUp } from './fluid-purchase.js';
import { compileFluids } from './fluids.js';
import { quantityText } from './format.js';
import { compileJoints, pinned } from './joints.js';
import { compileLabour } from './labour.js';
import { compileFollowUps, distanceUnit } from './follow-ups.js';
import { compileChoices, compileMeasurements } from './measurements.js';
import { compileTools } from './tools.js';
import { compileParts } from './parts.js';
import { compileQuote } from './quote.js';
import { settledBy } from './settled.js';
import { citedIn, sourceOf } from './sources.js';
import { compileLedger } from './ledger.js';
import { checkWaits, compileSteps } from './steps.js';

/** Everything that a job comes to. What is wrong with it is reported while this is computed. */
function figuresOf(context: JobContext) {
  const { plan, vehicle } = context;
  for (const step of plan.steps)
    for (const way of step.step.when ? waysOf(step.step.when) : [])
      pinned(
        context,
        Object.fromEntries(Object.entries(way).filter(([name]) => vehicle.features?.[name])),
        `${step.verb} ${step.objects.join(', ')}`,
      );
  checkWaits(context);
  const joints = compileJoints(context);
  const fluids = compileFluids(context);
  const bleeding = compileBleeding(context);
  const charges = compileCharges(context);
  const { measurements, codes } = compileMeasurements(context);
  const { choices, byName } = compileChoices(context, codes);
  const parts = compileParts(context, {
    joints,
    fluids: addedUp(fluids.demand, bleeding.demand, charges.oils),
    charges: charges.demand,
    choices: byName,
  });
  const labour = compileLabour(context);
  const { quote, waste } = compileQuote(context, labour, parts, addedUp(fluids.waste, bleeding.waste));
  return { joints, fluids, bled: bleeding.bled, charges, parts, labour, quote, waste, measurements, codes, choices, byName };
}

/** A job with all that it comes to, and what was found meanwhile. */
interface Figured {
  readonly job: JobDocument;
  readonly context: JobContext;
  readonly figures: ReturnType<typeof figuresOf>;
  readonly findings: readonly Finding[];
  /** Names of other documents that decide what is found. */
  readonly asked: ReadonlySet<string>;
  /** How each figure comes about, to be asked where somebody wants to know. */
  readonly workings: readonly (() => Working)[];
}

/** The job of a library that was computed last: one that is built is checked first, and then written. */
const last = new WeakMap<Library, Figured>();

/**
 * Computes a job: null where it cannot be planned, as its vehicle or a procedure is missing or could not be read.
 * @param plan its plan, where that is known already
 */
function figured(library: Library, job: JobDocument, plan?: Plan): Figured | null {
  const before = last.get(library);
  if (before?.job === job) return before;
  const findings: Finding[] = [];
  const asked = new Set<string>();
  const workings: (() => Working)[] = [];
  const context = contextOf(library, job, plan ?? planJob(library, job), { findings, asked, workings });
  if (!context) return null;
  const now: Figured = { job, context, figures: figuresOf(context), findings, asked, workings };
  last.set(library, now);
  return now;
}

/** Where a job is compiled; null where it cannot be planned. */
function contextOf(
  library: Library,
  job: JobDocument,
  plan: Plan,
  { findings, asked, workings }: { findings: Finding[]; asked: Set<string>; workings: (() => Working)[] },
): JobContext | null {
  const vehicle = library.vehicles.get(job.vehicle);
  const { shop } = library;
  if (plan.incomplete || !vehicle || !shop) return null;
  const settled = settledBy(job, plan.scope);
  const branches = outcomesOf(plan.steps, plan, settled);
  const numbers = new Map<PlanStep, number>(plan.steps.map((step, index) => [step, index + 1]));
  return {
    library,
    job,
    shop,
    vehicle,
    words: wordsOf(languageFor(job, shop)),
    plan,
    walk: plan.walk,
    settled,
    branches: branches.length > 0 ? branches : [{}],
    numberOf: (step) => numbers.get(step) ?? 0,
    report: (rule, message, span, severity = 'error', about) =>
      void findings.push({ rule, severity, message, span, ...(about === undefined ? {} : { about }) }),
    working: (make) => void workings.push(make),
    asks: (...names) => {
      for (const name of names) asked.add(name);
    },
  };
}

/** The language of a job's paper. */
const languageFor = (job: JobDocument, shop: ShopDocument) => job.language ?? shop.language ?? languageOf(shop.locale ?? 'en-GB');

/**
 * What compiling a job finds, and each other way that its quote compares with it: what is found there again is told once.
 * Nothing is written for paper.
 * @param plan its plan, where that is known already
 * @param asks takes names of other documents that decide what is found
 */
export function findingsOfJob(
  library: Library,
  job: JobDocument,
  plan?: Plan,
  asks: (name: string) => void = () => undefined,
): readonly Finding[] {
  const others = otherWays(job).flatMap((way) => findingsOf(library, way.job, planJob(library, way.job), asks));
  const findings = findingsOf(library, job, plan ?? planJob(library, job), asks);
  const told = new Set(findings.map(whatItSays));
  return [...findings, ...others.filter((one) => !told.has(whatItSays(one)))];
}

const whatItSays = ({ rule, message }: Finding): string => `${rule} ${message}`;

function findingsOf(library: Library, job: JobDocument, plan: Plan, asks: (name: string) => void): Finding[] {
  const computed = plan.fits ? figured(library, job, plan) : null;
  for (const name of computed?.asked ?? []) asks(name);
  return [...(computed?.findings ?? [])];
}

/**
 * plan → resolve → compiled job. Everything that paper says is computed here and nowhere later.
 * Null where the job cannot be planned: its vehicle or a procedure is missing or could not be read.
 * @param draft made in spite of errors; goes onto every page
 * @param open findings that are printed with a draft
 * @param allowed findings that somebody allowed, printed with the reason
 */
export function compileJob(
  library: Library,
  job: JobDocument,
  options: {
    readonly draft?: boolean;
    readonly open?: readonly Finding[];
    readonly allowed?: readonly Allowed[];
  } = {},
): CompiledJob | null {
  const computed = figured(library, job);
  if (!computed) return null;
  const { figures } = computed;
  // What is computed for paper alone does not come into what was kept: the same job may be compiled again.
  const workings = [...computed.workings];
  const context: JobContext = { ...computed.context, report: () => undefined, working: (make) => void workings.push(make) };
  const { plan, shop, vehicle, words } = context;
  const { joints, fluids, bled, charges, parts, labour, quote, waste, measurements, codes, choices, byName } = figures;
  const language = languageFor(job, shop);
  const unit = distanceUnit(context, joints);
  const gates = plan.steps.filter(isGateByTable).length;

  const compiled: Omit<CompiledJob, 'digest'> = {
    format: 'baywright-job/1',
    id: job.id,
    number: numberOfJob(job),
    date: job.date,
    promised: job.promised ?? null,
    draft: options.draft ?? false,
    shop: {
      name: shop.name,
      address: [...(shop.address ?? [])],
      locale: localeIn(language, shop.locale ?? 'en-GB'),
      language,
      currency: shop.currency,
      paper: shop.paper ?? 'A4',
      warranty: shop.warranty ?? null,
    },
    vehicle: {
      id: vehicle.id,
      name: vehicle.name,
      revision: vehicle.revision ?? null,
      unit: job.unit ?? null,
      plate: job.plate ?? null,
      vin: job.vin ?? null,
      serial: job.serial ?? null,
      built: vehicle.built ?? null,
      source: sourceOf(vehicle),
      odometer: job.odometer ? quantityText(job.odometer, words) : null,
      hours: job.hours ? quantityText(job.hours, words) : null,
      distanceUnit: unit,
    },
    order: {
      customer: job.customer ?? null,
      complaint: job.complaint ?? null,
      confirmed: job.confirmed ?? null,
      technician: job.technician ?? null,
      checker: job.checker ?? null,
      notWanted: [...(job['not-wanted'] ?? [])],
    },
    pinned: Object.entries(job.features ?? {}).map(([feature, one]) => ({
      feature,
      value: one.is,
      by: one.by,
      tell: vehicle.features?.[feature]?.tell ?? '',
    })),
    documents: plan.participants.map(({ document }) => ({
      id: document.id,
      kind: document.kind,
      name: document.name,
      revision: document.revision ?? null,
      file: fileWith(document).path,
      source: sourceOf(document),
      checked: document.checked ? { by: document.checked.by, on: document.checked.on } : null,
    })),
    cited: citedIn(context, { fluids: [...fluids.fluids, ...bled], charges: charges.charges, measurements: codes, choices: byName }),
    work: job.work.flatMap((one) => {
      const procedure = library.procedures.get(wantedOf(one, library).id);
      return procedure
        ? [
            {
              id: procedure.id,
              name: procedure.name,
              what: asSentence(procedure.customer?.what ?? procedure.name),
              why: procedure.customer?.why ? asSentence(procedure.customer.why) : null,
            },
          ]
        : [];
    }),
    steps: compileSteps(context, { joints, parts, measured: codes, choices: byName, fluids: fluids.fluids, charges: charges.charges }),
    joints: joints.joints,
    ledger: compileLedger(context, joints, gates),
    measurements,
    choices,
    fluids: fluids.fluids,
    bled,
    charges: charges.charges,
    codes: Object.entries(job.codes ?? {}).map(([part, code]) => ({ part, code })),
    parts: parts.parts,
    tools: compileTools(context, joints),
    labour: labour.labour,
    quote: { ...quote, alternatives: compileAlternatives(library, job, quote.gross) },
    waste,
    followUps: compileFollowUps(context, joints, unit),
    allowed: [
      ...(options.open ?? []).map((finding) => ({
        rule: finding.rule,
        message: finding.message,
        place: whereIs(finding.span),
        reason: null,
      })),
      ...(options.allowed ?? []).map(({ finding, reason }) => ({
        rule: finding.rule,
        message: finding.message,
        place: whereIs(finding.span),
        reason,
      })),
    ],
    workings: workings.map((make) => make()),
  };
  return { ...compiled, digest: digestOf(compiled) };
}

/** The locale of the shop, in the language of the paper: dates have the words of the language and the habits of the region. */
function localeIn(language: string, locale: string): string {
  if (locale.startsWith(`${language}-`) || locale === language) return locale;
  return [language, new Intl.Locale(locale).region].filter(Boolean).join('-');
}

/** Other ways to do the job, each computed on its own and compared with it. */
function compileAlternatives(library: Library, job: JobDocument, gross: string): CompiledJob['quote']['alternatives'] {
  return otherWays(job).flatMap(({ id, says, job: other }) => {
    const computed = figured(library, other);
    if (!computed) return [];
    const { quote, labour } = computed.figures;
    return [
      {
        id,
        says,
        net: quote.net,
        gross: quote.gross,
        difference: moneyText(new D(quote.gross).minus(gross), computed.context.shop.currency),
        hours: labour.labour.billed,
      },
    ];
  });
}
