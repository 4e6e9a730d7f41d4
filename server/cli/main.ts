/** The terminal command. Nothing is decided here: words to options, and what goes wrong to one sentence and a status. */
import { Command, CommanderError, Option } from 'commander';
import { runStdioServer } from '../protocol/stdio.ts';
import { type Common, type CutsOptions, check, cuts, explainRule, plan, type Terminal } from './commands.ts';
import { Stop } from './stop.ts';

const severities = ['error', 'warning', 'note'];

function program(run: (work: (terminal: Terminal) => number) => void): Command {
  const command = new Command('storypole')
    .description('Checks, cuts and plans built-in closets written as .closet files.')
    .version('0.1.0')
    .exitOverride()
    .configureOutput({ writeErr: () => undefined })
    .addHelpText(
      'after',
      '\nPaths are files, folders or nothing (the project here). Exit status: 0 without findings at error level, 1 with, 2 could not run.',
    );
  const shared = (name: string, description: string, formats: readonly string[]): Command =>
    command
      .command(name)
      .description(description)
      .addOption(new Option('--format <format>', 'how to print').choices([...formats]).default('text'))
      .addOption(
        new Option('--fail-on <severity>', 'end with 1 from this severity on').choices(severities).default('error'),
      )
      .addOption(
        new Option('--severity <severity>', 'show findings from this severity on').choices(severities).default('note'),
      )
      .option('--output <file>', 'write to a file, whole or not at all')
      .option('--color', 'colour though it is no terminal')
      .option('--no-color', 'no colour')
      .exitOverride();
  shared('check [paths...]', 'findings, with the numbers compared and what would mend them', ['text', 'json']).action(
    (paths: string[], options: Common) => run((terminal) => check(paths, colourAsked(options), terminal)),
  );
  shared('cuts [paths...]', 'every part with its finished length', ['text', 'json', 'csv'])
    .option('--unit <name>', 'one unit alone')
    .option('--steps', 'how each length came about')
    .action((paths: string[], options: CutsOptions) => run((terminal) => cuts(paths, colourAsked(options), terminal)));
  shared('plan [paths...]', 'which stock board each part comes from', ['text', 'json']).action(
    (paths: string[], options: Common) => run((terminal) => plan(paths, colourAsked(options), terminal)),
  );
  shared('explain [rule]', 'what a rule compares, its source and its caution; without a rule, all of them', [
    'text',
    'json',
  ]).action((rule: string | undefined, options: Common) => run((terminal) => explainRule(rule, options, terminal)));
  command
    .command('language-server')
    .description('serves an editor over standard input and output')
    .option('--stdio', 'over standard input and output (the only way there is)')
    .exitOverride()
    .action(() => runStdioServer());
  return command;
}

/** Without --color and --no-color the terminal decides. Commander makes `color` true where only --no-color is known. */
function colourAsked<T extends Common>(options: T): T {
  const asked = process.argv.includes('--color') ? true : process.argv.includes('--no-color') ? false : undefined;
  const { color: _, ...rest } = options;
  return { ...rest, ...(asked !== undefined && { color: asked }) } as T;
}

function fail(sentence: string): void {
  process.stderr.write(`storypole: ${sentence}\n`);
  process.exitCode = 2;
}

function main(): void {
  const terminal: Terminal = {
    current: process.cwd(),
    out: process.stdout,
    err: process.stderr,
    environment: process.env,
  };
  // Whoever reads our output may have seen enough.
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') process.exit(process.exitCode ?? 0);
    fail(`the output cannot be written: ${error.message}`);
  });
  try {
    program((work) => {
      process.exitCode = work(terminal);
    }).parse();
  } catch (error) {
    if (error instanceof CommanderError) {
      // Help and version have been printed.
      if (error.exitCode === 0) process.exitCode = 0;
      else if (error.code === 'commander.help') {
        process.stderr.write(
          'storypole: say what to do: check, cuts, plan, explain or language-server. storypole --help tells more.\n',
        );
        process.exitCode = 2;
      } else fail(error.message.replace(/^error: /, ''));
    } else if (error instanceof Stop) fail(error.message);
    else if (process.env.STORYPOLE_DEBUG) throw error;
    else
      fail(
        `something went wrong inside the tool (${error instanceof Error ? error.message : String(error)}). STORYPOLE_DEBUG=1 shows where.`,
      );
  }
}

main();
