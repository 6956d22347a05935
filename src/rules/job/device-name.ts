import { spanOf } from '../../schema/origin.js';
import { isDevice } from '../../world/paths.js';
import { job } from '../examples.js';
import type { Rule } from '../rule.js';

const example = job('');
const named = (id: string): typeof example => ({
  ...example,
  'jobs/example-job.yaml': (example['jobs/example-job.yaml'] ?? '').replace('id: example-job', `id: ${id}`),
});

export const rule: Rule = {
  name: 'job/device-name',
  severity: 'error',
  looksAt: 'jobs',
  finds: 'A job whose id is a name that Windows keeps for a device: `con`, `prn`, `aux`, `nul`, `com1`, `lpt1` and the like.',
  why: 'The paper of a job goes into a folder of its name. On Windows there can be none of this name, and the job is not printed.',
  mend: 'Give the job another id, such as its number.',
  bad: named('aux # <-'),
  good: named('aux-heater'),
  check({ jobs }, tell) {
    for (const one of jobs)
      if (isDevice(one.id))
        tell({
          span: spanOf(one, 'id'),
          message: `\`${one.id}\` cannot be the id of a job: Windows keeps this name for a device, and the folder with its paper could not be made there. Write another, such as its number.`,
        });
  },
};
