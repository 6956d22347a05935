// A value in a unit of another kind: told, and never the end of a check or of a draft.
import { expect, it } from 'vitest';
import { checkLibrary } from '../src/compile.js';
import { compileJob } from '../src/job/compile-job.js';
import { demoWith } from './helpers/shop.js';

const tarrock = '/shop/vehicles/tarrock-35.yaml';
const pellan = '/shop/vehicles/pellan-estate.yaml';
const receiver = '/shop/jobs/2049-receiver.yaml';

it.each([
  [receiver, 'refrigerant-recovered: 410 g', 'refrigerant-recovered: 410 mm', 'measurement/other-kind'],
  [receiver, 'refrigerant-oil: 12 mL', 'refrigerant-oil: 12 °C', 'measurement/other-kind'],
  [tarrock, 'over: 0.55 mm', 'over: 0.55 bar', 'measurement/two-kinds'],
  [tarrock, 'to: 0.65 mm', 'to: 0.65 deg', 'measurement/two-kinds'],
  [tarrock, 'limit: 0.55..0.85 mm', 'limit: 0.55..0.85 bar', 'measurement/two-kinds'],
  [pellan, 'max-spread: 0.015 mm', 'max-spread: 0.015 bar', 'measurement/two-kinds'],
  [pellan, 'resolution: 0.01 mm', 'resolution: 0.01 deg', 'measurement/two-kinds'],
])('%s: %s as %s', (file, from, to, rule) => {
  const library = demoWith([file, from, to]);
  expect(checkLibrary(library).map((one) => one.rule)).toContain(rule);
  let drafts = 0;
  for (const job of library.jobs.values()) if (compileJob(library, job, { draft: true })) drafts++;
  expect(drafts).toBe(library.jobs.size);
});
