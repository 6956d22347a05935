import { didYouMean, oneOf } from '../../findings/suggest.js';
import type { VehicleDocument } from '../../library/document.js';
import { asList, type Scope } from '../../library/scope.js';
import { measuredOutcomes, waysOf } from '../../library/variants.js';
import { staysIn } from '../../resolve/measure/judge.js';
import type { When } from '../../schema/generated/types.js';
import { isWhole } from '../../library/written.js';
import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Found, Rule } from '../rule.js';

export const rule: Rule = {
  name: 'variant/unknown-feature',
  severity: 'error',
  finds: 'A condition over a feature, a measurement or a choice that there is not, or a value that it cannot take.',
  why: 'The condition never holds, and what hangs on it is never printed.',
  mend: 'Correct the name or the value.',
  bad: procedure('steps:\n  - inspect: leaks\n    when: { engine: A3 } # <-\n'),
  good: procedure('steps:\n  - inspect: leaks\n    when: { engine: A1 }\n'),
  check(context, tell) {
    for (const { document, step } of context.steps)
      if (step.when)
        for (const scope of context.scopesOf(document))
          for (const way of waysOf(step.when)) for (const one of wrongIn(way, outcomesIn(scope))) tell(at(way, one));
    for (const { group, document } of context.fasteners)
      for (const vehicle of document.kind === 'vehicle' ? [document] : context.vehiclesFor(document))
        for (const { when } of group.variants ?? []) for (const one of wrongIn(when, featuresOf(vehicle))) tell(at(when, one));
    for (const job of context.jobs) {
      const vehicle = context.library.vehicles.get(job.vehicle);
      if (vehicle?.features)
        for (const [name, pinned] of Object.entries(job.features ?? {}))
          for (const one of wrongIn({ [name]: pinned.is }, featuresOf(vehicle))) tell(at(pinned, one, 'is'));
    }
    for (const { for: vehicles, offers } of context.catalogues) {
      const ids = asList(vehicles);
      const features = ids.flatMap((id) => context.library.vehicles.get(id) ?? []).map(featuresOf);
      for (const { fits } of offers) {
        // It need not fit each of the vehicles that the catalogue is for, and may fit one that could not be read.
        const wrong = fits && features.length === ids.length ? features.map((one) => wrongIn(fits, one)) : [];
        if (fits && wrong.every((found) => found.length > 0)) for (const one of wrong[0] ?? []) tell(at(fits, one));
      }
    }
  },
};

interface Wrong {
  readonly name: string;
  readonly about: string;
  readonly message: string;
}

const at = (holder: object, { name, about, message }: Wrong, key = name): Found => ({ span: spanOf(holder, key), about, message });

type Values = ReadonlyMap<string, readonly string[]>;

/** Of a vehicle; null where some of them could not be read. */
const featuresOf = (vehicle: VehicleDocument | null): Values | null =>
  vehicle && !isWhole(vehicle, 'features')
    ? null
    : new Map(Object.entries(vehicle?.features ?? {}).map(([name, { values }]) => [name, values]));

/** What a step may wait for: features of the vehicle, what is measured, what is chosen. */
function outcomesIn({ vehicle, measurements, choices }: Scope): Values | null {
  const features = featuresOf(vehicle);
  if (!features) return null;
  return new Map([
    ...features,
    ...[...measurements.keys()].map((name): [string, readonly string[]] => [name, measuredOutcomes]),
    ...[...choices].map(([name, { table, stays }]): [string, readonly string[]] => [
      name,
      [...table.map(({ gives }) => gives), ...(stays === undefined ? [] : [staysIn])],
    ]),
  ]);
}

function wrongIn(when: When, known: Values | null): Wrong[] {
  if (!known) return [];
  return Object.entries(when).flatMap(([name, wanted]) => {
    const values = known.get(name);
    if (!values) {
      const meant = didYouMean(name, known.keys());
      return [
        { name, about: name, message: `There is no feature, measurement or choice \`${name}\`.${meant} Correct the name, or declare it.` },
      ];
    }
    return asList(wanted)
      .filter((value) => !values.includes(value))
      .map((value) => ({
        name,
        about: value,
        message: `\`${name}\` is never \`${value}\`.${didYouMean(value, values)} It is ${oneOf(values)}.`,
      }));
  });
}
