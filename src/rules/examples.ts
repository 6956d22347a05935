/** Short hands for the examples of the rules: what every document begins with. */
export const procedure = (body: string): string => `kind: procedure\nid: example\nname: Example work\nfor: sample-van\n${body}`;

/** One fastener group, with a part that it holds and the steps around it. */
export const fastener = (group: string): string =>
  procedure(`parts: { bracket: { fasteners: bracket-bolts } }
fasteners:
  bracket-bolts: { ${group} } # <-
steps:
  - remove: bracket
  - clean: bracket
close-up:
  - fit: bracket
  - tighten: bracket-bolts
`);

/** A job for a small procedure. */
export const job = (body: string, work = 'steps:\n  - inspect: leaks\n'): Readonly<Record<string, string>> => ({
  'jobs/example-job.yaml': `kind: job\nid: example-job\ndate: "2026-11-25"\nvehicle: sample-van\nplate: "AB 12"\nwork: [example]\n${body}`,
  'procedures/example.yaml': procedure(work),
});

export const lookBehindTheCover = 'steps:\n  - remove: cover\nclose-up:\n  - fit: cover\n';
