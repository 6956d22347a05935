import { Command, CommanderError, Option } from 'commander';
import { type PaperFormat, paperFormats } from '../emit/names.js';
import { liesIn } from '../library/root.js';
import { forward } from '../world/paths.js';
import { isExhausted, reason } from '../world/reason.js';
import { CannotRun, isCannotRun } from '../world/world.js';
import { type Format, formats } from './formats.js';
import { harmless } from './harmless.js';
import { type Output, outputTo } from './output.js';
import { packageFolder, packageVersion } from './package-folder.js';

const messages = outputTo('stderr', () => {
  // Nobody listens; the status tells.
});
const { write: talk } = messages;

/** A reader that closes early (`| head`) is no error; a disk that is full is. */
function endUnheard({ code }: NodeJS.ErrnoException): void {
  if (code === 'EPIPE') process.exit(0);
  talk(`baywright: the result could not be written to standard output: ${code === 'ENOSPC' ? 'the disk is full' : code}.\n`);
  process.exit(2);
}

const results = outputTo('stdout', endUnheard);
const { write } = results;

/** Colour only on a terminal, and never where NO_COLOR is set (no-color.org). */
const wantsColour = ({ isTerminal }: Output): boolean => isTerminal && !process.env.NO_COLOR && process.env.TERM !== 'dumb';

/** Runs a command line. Status: 0 clean, 1 findings, 2 could not do what was asked. No stack trace ever reaches the user. */
export async function main(args: readonly string[]): Promise<number> {
  let status = 0;
  const program = new Command('baywright')
    .description('Compiles vehicle-repair work: checks a library of YAML and makes bay sheet, torque card, parts list and quote.')
    .version(packageVersion(), '-v, --version', 'print the version')
    .helpOption('-h, --help', 'print this help')
    .exitOverride()
    .configureOutput({ writeErr: talk, writeOut: write })
    .showHelpAfterError('(`baywright --help` lists the commands)');

  program
    .command('check')
    .description('check a library, or parts of it')
    .argument('[paths...]', 'files or folders; the library around the current folder where none is named')
    .addOption(new Option('--format <format>', 'how to report').choices([...formats]).default('terminal'))
    .addOption(new Option('--max-warnings <n>', 'more warnings than this fail the run').argParser(wholeNumber))
    .option('--baseline <file>', 'pass over the findings in this file; fail only on new ones')
    .option('--write-baseline <file>', 'keep what is found now as a baseline')
    .option('--shard <i/n>', 'check one share of several, such as 2/5, and print it for `merge`')
    .option('--watch', 'look again after every change, until you press Ctrl+C')
    .option('--no-cache', 'look at everything anew; without it, files that have not changed are not read again')
    .option('--fix', 'mend what is certain (names, quotes, a missing close-up step); never a number')
    .action(
      async (
        paths: string[],
        options: {
          format: Format;
          maxWarnings?: number;
          baseline?: string;
          writeBaseline?: string;
          fix?: boolean;
          cache?: boolean;
          watch?: boolean;
        },
      ) => {
        const { check } = await import('./commands/check.js');
        status = await check(paths, { ...options, colour: wantsColour(results) }, write, talk);
      },
    );

  program
    .command('build')
    .description('compile jobs into paper: bay-sheet, torque-card, fluids-sheet, tool-list, parts-list and quote')
    .argument('[jobs...]', 'jobs by id, number or file; all jobs where none is named')
    .option('--out <folder>', 'where the paper goes, a folder a job', 'out')
    .addOption(new Option('--format <format>', 'pages to print, a page for a screen, or both').choices(paperFormats).default('pdf'))
    .addOption(
      new Option('--paper <name>', 'this paper alone, such as torque-card; several with commas').argParser(
        (name, before: string[] = []) => [...before, name],
      ),
    )
    .option('--shard <i/n>', 'make the paper of one share of the jobs, such as 2/5, and print what was made for `merge`')
    .option('--draft', 'print in spite of errors, with DRAFT on every page', false)
    .option('--after <step>', 'with the tag for a vehicle on which work stops after this step (number or id)')
    .option('--record <file>', 'with the sheet as it was ticked and filled on a screen, from a record saved there')
    .option('--workings', 'with a page that shows how each number was computed', false)
    .action(
      async (
        jobs: string[],
        options: {
          format: PaperFormat;
          paper?: string[];
          shard?: string;
          out: string;
          draft: boolean;
          workings: boolean;
          after?: string;
          record?: string;
        },
      ) => {
        const { build } = await import('./commands/build.js');
        status = await build(jobs, { ...options, colour: wantsColour(messages) }, write, talk);
      },
    );

  program
    .command('merge')
    .description('join what several machines printed with --shard, as if one had done it')
    .argument('<shares...>', 'files, one a share')
    .addOption(new Option('--format <format>', 'how to report').choices([...formats]).default('terminal'))
    .addOption(new Option('--max-warnings <n>', 'more warnings than this fail the run').argParser(wholeNumber))
    .action(async (shares: string[], options: { format: Format; maxWarnings?: number }) => {
      const { mergeShares } = await import('./commands/check.js');
      status = await mergeShares(shares, { ...options, colour: wantsColour(results) }, write, talk);
    });

  program
    .command('new')
    .description('write a commented starting file')
    .argument('<kind>', 'shop, vehicle, procedure, preparation, parts or job')
    .argument('<id>', 'its name: lower-case letters, digits and hyphens')
    .action(async (kind: string, id: string) => {
      const { newDocument } = await import('./commands.js');
      status = newDocument(kind, id, new Date().toISOString().slice(0, 10), write, talk);
    });

  program
    .command('explain')
    .description('print what a rule finds, why, and how to mend it; or how a number of a job was computed. Without a name, list all rules')
    .argument('[rule or job]', 'the rule, as printed with a finding; with --value a job by id, number or file')
    .option('--value [path]', 'one number of the job, by its path in job.json, for example quote/gross; without a path, list them')
    .action(async (name: string | undefined, options: { value?: string | true }) => {
      if (options.value === undefined) status = (await import('./commands.js')).explain(name, write);
      else if (name === undefined) throw new CannotRun('Name the job too: `baywright explain JOB --value quote/gross`.');
      else status = (await import('./commands.js')).explainValue(name, options.value === true ? null : options.value, write);
    });

  program
    .command('editor')
    .description('language server on standard input and output: findings as you type, definitions, hover, names in scope, fixes')
    .option('--stdio', 'the only way it speaks; editors add it')
    .action(async () => {
      const { editor } = await import('./commands.js');
      process.stdout.on('error', endUnheard);
      await editor();
    });

  try {
    if (args.includes('')) throw new CannotRun('One of the words of this command is empty. Is a variable of a script not set?');
    await program.parseAsync([...args], { from: 'user' });
    return status;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 || error.code === 'commander.help' ? 0 : 2;
    tell(error);
    return 2;
  }
}

/** What stopped a run, in words. */
function tell(error: unknown): void {
  const why = error instanceof Error ? error.message.split('\n')[0] : 'unknown';
  if (isCannotRun(error)) talk(`baywright: ${error.message.split('\n').map(harmless).join('\n')}\n`);
  else if (error instanceof Error && 'syscall' in error && error.syscall === 'uv_cwd')
    talk('baywright: the folder that you are in is gone. Change to another and run this again.\n');
  else if (isExhausted(error)) talk(`baywright: ${reason(error)}. End other programs, or raise the limit of this one, and run it again.\n`);
  else if (isOfInstallation(error)) talk(`baywright: the installation is not whole (${why}). Install baywright again.\n`);
  else
    talk(
      `baywright: something went wrong inside the tool, and nothing was written. Please report it with the files that you used (${why}).\n`,
    );
}

/** Whether a part of the tool itself, or a package that it needs, is missing or cut off. */
const isOfInstallation = (error: unknown): boolean =>
  error instanceof SyntaxError ||
  (error instanceof Error &&
    (('code' in error && error.code === 'MODULE_NOT_FOUND') || ('path' in error && liesIn(forward(String(error.path)), packageFolder))));

function wholeNumber(text: string): number {
  if (!/^\d{1,9}$/.test(text)) throw new CannotRun(`--max-warnings takes a whole number, and not “${text}”.`);
  return Number(text);
}

// What nobody waits for may fail as well: a look after a change, an answer to an editor that is gone.
process.on('uncaughtException', (error) => {
  tell(error);
  process.exit(2);
});
