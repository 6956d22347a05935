/**
 * The reader of YAML. Its CommonJS build is three times as fast as the one that `import` takes, so that it is required.
 */
import yaml = require('js-yaml');

export { yaml };
export type Event = ReturnType<typeof yaml.parseEvents>[number];
export type ScalarEvent = Extract<Event, { valueStart: number }>;
