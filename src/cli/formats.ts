/** The formats in which `check` reports; each has its reporter in `reporters/`. */
export const formats = ['terminal', 'json', 'sarif', 'junit', 'github'] as const;
export type Format = (typeof formats)[number];
