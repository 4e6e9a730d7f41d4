/** The terminal command: what is typed becomes options, and whatever goes wrong one sentence and a status. */
import { Command, CommanderError, Option } from 'commander';
import { type CheckOptions, check } from './check.ts';
import { type CutsOptions, cuts } from './cuts.ts';
import { explainRule, schema } from './explain.ts';
import { tool } from './json.ts';
import { plan } from './plan.ts';
import type { Common, Judging } from './session.ts';
import { Stop } from './stop.ts';

const severities = ['error', 'warning', 'note'];

const afterHelp = `
Paths are .closet files, folders or nothing: the project that the current folder lies in,
or else every .closet file in and under it.

Exit status: 0 without findings at error level, 1 with, 2 where it could not run.`;

function program(): Command {
  const command = new Command(tool.name)
    .description('Checks, cuts and plans built-in closets written as .closet files.')
    .version(tool.version)
    .exitOverride()
    .configureOutput({ writeErr: () => undefined })
    .addHelpText('after', afterHelp);

  /** A command that answers an exit status. */
  const answering = (name: string, description: string, formats: readonly string[]): Command =>
    command
      .command(name)
      .description(description)
      .addOption(new Option('--format <format>', 'how the result is written').choices([...formats]).default('text'))
      .option('--output <file>', 'write the result to a file, whole or not at all')
      .option('--color', 'colour, even where the output is no terminal')
      .option('--no-color', 'no colour, even on a terminal');
  const failing = (made: Command): Command =>
    made.addOption(
      new Option('--fail-on <severity>', 'end with 1 from this severity on').choices(severities).default('error'),
    );
  const run = (work: () => number): void => {
    process.exitCode = work();
  };

  failing(
    answering('check [paths...]', 'what is wrong, with the numbers compared and what would mend it', ['text', 'json']),
  )
    .addOption(
      new Option('--severity <severity>', 'show findings from this severity on').choices(severities).default('note'),
    )
    .action((paths: string[], options: CheckOptions) => run(() => check(paths, options)));
  failing(answering('cuts [paths...]', 'every part with its finished length', ['text', 'json', 'csv']))
    .option('--unit <name>', 'this unit alone')
    .option('--steps', 'how each length came about')
    .action((paths: string[], options: CutsOptions) => run(() => cuts(paths, options)));
  failing(
    answering('plan [paths...]', 'which board or rod each part comes from, for the whole project', [
      'text',
      'json',
      'csv',
    ]),
  ).action((paths: string[], options: Judging) => run(() => plan(paths, options)));
  answering('explain [rule]', 'what a rule compares, its source and its caution; without a rule, all of them', [
    'text',
    'json',
  ]).action((rule: string | undefined, options: Common) => run(() => explainRule(rule, options)));
  command
    .command('schema')
    .description('the JSON Schema of what --format json writes')
    .option('--output <file>', 'write it to a file, whole or not at all')
    .action((options: Pick<Common, 'output'>) => run(() => schema(options)));
  command
    .command('language-server')
    .description('serves an editor over standard input and output')
    .option('--stdio', 'over standard input and output, the only way there is')
    .action(async () => {
      // Loaded for editors alone: the other commands start sooner without it.
      const { runStdioServer } = await import('../protocol/stdio.ts');
      runStdioServer();
    });
  return command;
}

function fail(sentence: string): void {
  process.stderr.write(`${tool.name}: ${sentence}\n`);
  process.exitCode = 2;
}

/** Whatever was thrown, as one sentence. */
function report(error: unknown): void {
  if (error instanceof CommanderError) {
    // Help and version have been printed.
    if (error.exitCode === 0) process.exitCode = 0;
    else if (error.code === 'commander.help')
      fail('say what to do: check, cuts, plan, explain or language-server; storypole --help tells more.');
    else fail(error.message.replace(/^error: /, '').replaceAll(/\s*\n\s*/g, ' '));
  } else if (error instanceof Stop) fail(error.message);
  else {
    const reason = error instanceof Error ? error.message : String(error);
    fail(
      `something went wrong inside the tool: ${reason.replaceAll(/\s*\n\s*/g, ' ')}. STORYPOLE_DEBUG=1 shows where.`,
    );
    if (process.env.STORYPOLE_DEBUG && error instanceof Error) process.stderr.write(`${error.stack ?? ''}\n`);
  }
}

process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  // Whoever reads our output may have seen enough.
  if (error.code === 'EPIPE') process.exit(process.exitCode ?? 0);
  fail(`the output cannot be written: ${error.message}.`);
});
// Nobody is left to tell where standard error is closed.
process.stderr.on('error', () => undefined);
process.on('uncaughtException', (error) => {
  report(error);
  process.exit(2);
});

program().parseAsync().catch(report);
