/** The terminal command: what is typed becomes options, and whatever goes wrong one sentence and a status. */
import { type Command, CommanderError, Option } from 'commander';
import { deliver } from './answer.ts';
import type { CheckOptions } from './check.ts';
import type { CompareOptions } from './compare.ts';
import type { CutsOptions } from './cuts.ts';
import { addEditorCommands } from './editor-commands.ts';
import type { FormatOptions } from './format.ts';
import type { NewOptions } from './new.ts';
import type { PlanOptions } from './plan.ts';
import { addPrintCommands } from './print-commands.ts';
import type { Common } from './session.ts';
import { addSheetCommands } from './sheet-commands.ts';
import { Stop } from './stop.ts';
import { addSurveyCommands } from './survey-commands.ts';
import type { TakeoffOptions } from './takeoff.ts';
import { ToldCommand } from './told-command.ts';
import { tool } from './tool.ts';
import { capital, printable } from './words.ts';

const severities = ['error', 'warning', 'note'];

const afterHelp = `
Paths are .closet files, folders or nothing: the project that the current folder lies in,
or else every .closet file in and under it. A place is FILE:LINE:COLUMN, counted from 1;
without a column, the first name of the line is meant. A stretch is FILE, FILE:LINE or FILE:FROM-TO.

Exit status: 0 without findings at error level, 1 with, 2 where it could not run.`;

interface Fixing {
  readonly fix?: boolean;
  readonly rule?: string;
  readonly dryRun?: boolean;
}

/** Each command loads what it needs when it is called: help and mistakes of typing need no parser. */
function program(): Command {
  const command = new ToldCommand(tool.name)
    .description('Checks, cuts and plans built-in closets written as .closet files.')
    .version(tool.version)
    .exitOverride()
    .configureOutput({ writeErr: () => undefined })
    .addHelpText('after', afterHelp);

  /** A command that answers an exit status. */
  const answering = (usage: string, description: string, formats: readonly string[]): Command =>
    command
      .command(usage)
      .summary(description)
      .description(`${capital(description)}.`)
      .addOption(new Option('--format <format>', 'how the result is written').choices([...formats]).default('text'))
      .option('--output <file>', 'write the result to a file, whole or not at all')
      .option('--color', 'colour, even where the output is no terminal')
      .option('--no-color', 'no colour, even on a terminal');
  const failing = (made: Command): Command =>
    made.addOption(
      new Option('--fail-on <severity>', 'end with 1 from this severity on').choices(severities).default('error'),
    );

  command.commandsGroup('Check, cut and buy:');
  failing(
    answering('check [paths...]', 'what is wrong, with the numbers compared and what would mend it', [
      'text',
      'json',
      'sarif',
      'junit',
      'github',
      'gitlab',
    ]),
  )
    .addOption(
      new Option('--severity <severity>', 'show findings from this severity on').choices(severities).default('note'),
    )
    .option('--coverage', 'which rules looked at each unit, on which numbers, and what they lacked')
    .option('--baseline <file>', 'a list of findings that are known: only others are told and counted')
    .option('--update-baseline', 'with --baseline: write what is found now as known')
    .option('--fix', 'make the obvious fixes of what is written wrong until none is left')
    .option('--rule <rule>', 'with --fix: those of this rule alone, also where it is about what is built')
    .option('--dry-run', 'with --fix: show what would change, and write nothing')
    .action(async (paths: string[], options: CheckOptions & Fixing & { readonly coverage?: boolean }) => {
      const { format } = options;
      const isPlain = format === 'text' || format === 'json';
      if (!isPlain && (options.fix || options.coverage))
        throw new Stop(`--format ${format} is for findings alone, without --fix and --coverage.`);
      if (options.baseline !== undefined && (options.fix || options.coverage))
        throw new Stop('--baseline is for findings alone, without --fix and --coverage.');
      if (options.fix) {
        const { fix } = await import('./fix.ts');
        await deliver(await fix(paths, { ...options, fix: true }), options.output);
        return;
      }
      if (options.rule !== undefined || options.dryRun) throw new Stop('--rule and --dry-run go with --fix.');
      if (options.coverage && isPlain) {
        const { coverage } = await import('./coverage.ts');
        await deliver(coverage(paths, { ...options, format }), options.output);
        return;
      }
      const { check } = await import('./check.ts');
      await deliver(await check(paths, options), options.output);
    });
  failing(answering('cuts [paths...]', 'every part with its finished length', ['text', 'json', 'csv']))
    .option('--unit <name>', 'this unit alone')
    .option('--steps', 'how each length came about')
    .action(async (paths: string[], options: CutsOptions) => {
      const { cuts } = await import('./cuts.ts');
      await deliver(cuts(paths, options), options.output);
    });
  failing(
    answering('plan [paths...]', 'which board or rod each part comes from, for the whole project', [
      'text',
      'json',
      'csv',
    ]),
  )
    .addOption(new Option('--by <what>', 'one delivery after the other, for each').choices(['floor', 'phase']))
    .option('--verify <file>', 'work out again whether the plans in a JSON report hold')
    .option('--stock-after <file>', 'write the stock that is left when the plan has been cut to a .closet file')
    .option('--most-patterns <count>', 'different patterns of a material that it is to keep to at the same cost')
    .option('--most-stop-settings <count>', "settings of the saw's stop that it is to keep to at the same cost")
    .option('--kerf <length>', 'for a .csv: what each cut takes (1/8in)')
    .option('--end-trim <length>', 'for a .csv: what each end of a board loses (0in)')
    .option('--keep-offcuts-from <length>', 'for a .csv: an offcut this long goes back to the rack (24in)')
    .option('--currency <code>', 'for a .csv: the currency of its prices')
    .action(async (paths: string[], options: PlanOptions & { readonly verify?: string }) => {
      if (options.verify !== undefined) {
        const { verifyFile } = await import('./plan-verify.ts');
        await deliver(verifyFile(options.verify, options), options.output);
        return;
      }
      const { plan } = await import('./plan.ts');
      await deliver(await plan(paths, options), options.output);
    });
  failing(
    answering('takeoff [paths...]', 'hardware, anchors and screws, with the packs to buy', ['text', 'json', 'csv']),
  )
    .option('--unit <name>', 'this unit alone')
    .addOption(new Option('--by <what>', 'a section for each').choices(['unit', 'floor', 'phase']))
    .option('--steps', 'what each count is for')
    .action(async (paths: string[], options: TakeoffOptions) => {
      const { takeoff } = await import('./takeoff.ts');
      await deliver(takeoff(paths, options), options.output);
    });
  answering('explain [rule]', 'what a rule compares, its source and its caution; without a rule, all of them', [
    'text',
    'json',
  ])
    .option('--at <file:line>', 'what was compared about what stands there, with every number on the way')
    .action(async (rule: string | undefined, options: Common & { readonly at?: string }) => {
      if (options.at !== undefined) {
        const { explainAt } = await import('./explain-at.ts');
        await deliver(explainAt(options.at, options), options.output);
        return;
      }
      const { explainRule } = await import('./explain.ts');
      await deliver(explainRule(rule, options), options.output);
    });
  answering('compare <base> [head]', 'what differs in what is built between two folders or git revisions', [
    'text',
    'markdown',
    'html',
    'json',
  ])
    .option('--project <folder>', 'the folder of the project in the repository, where not the current one')
    .option(
      '--library <folder=version>',
      'for HEAD, another version of a library: a folder, or a revision of the repository in its folder',
      (one: string, all: readonly string[] = []) => [...all, one],
    )
    .option('--exit-code', 'end with 1 where what is built differs')
    .addHelpText(
      'after',
      '\nEach is a folder, or else a git revision, whose files are read from the object store: the work tree is\nnot touched. Without HEAD, the work tree as it is. Names alone and layout of the text make no difference.',
    )
    .action(async (base: string, head: string | undefined, options: CompareOptions) => {
      const { compareStates } = await import('./compare.ts');
      await deliver(compareStates(base, head, options), options.output);
    });
  addSheetCommands(command, failing);
  addPrintCommands(command, failing);
  addSurveyCommands(command, answering);
  command.commandsGroup('Ask and change, as an editor does:');
  addEditorCommands(answering);
  command.commandsGroup('Begin, and keep in order:');
  answering('format [paths...]', 'brings files into the one style, and leaves those that are in it as they are', [
    'text',
    'json',
  ])
    .option('--check', 'write nothing, show what would change, and end with 1 where anything would')
    .action(async (paths: string[], options: FormatOptions) => {
      const { format } = await import('./format.ts');
      await deliver(await format(paths, options), options.output);
    });
  answering('flatten <file>', 'each statement on a line of its own with what it stands in, for git diff', ['text'])
    .addHelpText(
      'after',
      '\nIn .gitattributes: *.closet diff=closet\nOnce a clone: git config diff.closet.textconv "storypole flatten"',
    )
    .action(async (file: string, options: Common) => {
      const { flatten } = await import('./flatten.ts');
      await deliver(flatten(file), options.output);
    });
  answering('new <folder>', 'begins a project in a folder that has none, as an editor does', ['text'])
    .option('--name <name>', 'what the building or the job is called, where not as the folder is')
    .addOption(
      new Option('--measure <measure>', 'how lengths are shown').choices(['inches', 'millimetres']).default('inches'),
    )
    .action(async (folder: string, options: NewOptions) => {
      const { begin } = await import('./new.ts');
      await deliver(await begin(folder, options), options.output);
    });
  command.commandsGroup('For other programs:');
  command
    .command('schema')
    .summary('the JSON Schema of what --format json writes')
    .description('The JSON Schema of what --format json writes.')
    .option('--output <file>', 'write it to a file, whole or not at all')
    .action(async (options: Pick<Common, 'output'>) => {
      const { schema } = await import('./explain.ts');
      await deliver(schema(), options.output);
    });
  command
    .command('language-server')
    .summary('serves an editor over standard input and output')
    .description('Serves an editor over standard input and output, or where the editor waits for it.')
    .option('--stdio', 'over standard input and output, as it does unless told otherwise')
    .addOption(new Option('--pipe <name>', 'over a pipe, at which the editor waits').conflicts(['stdio', 'socket']))
    .addOption(
      new Option('--socket <port>', 'over a port of this machine, at which the editor waits').conflicts('stdio'),
    )
    .addOption(new Option('--clientProcessId <number>', 'ends when this process has ended'))
    .action(async ({ pipe, socket }: { pipe?: string; socket?: string }) => {
      const { portOf, serveAt } = await import('../protocol/streams.ts');
      const port = socket === undefined ? undefined : portOf(socket);
      if (pipe !== undefined) return serveAt({ pipe });
      if (port !== undefined) return serveAt({ port });
      if (socket !== undefined) throw new Stop(`--socket takes a port from 1 to 65535, which "${socket}" is not.`);
      const { runStdioServer } = await import('../protocol/stdio.ts');
      runStdioServer();
    });
  return command;
}

function fail(text: string): void {
  process.stderr.write(`${tool.name}: ${printable(text)}\n`);
  process.exitCode = 2;
}

function sentence(text: string): string {
  return `${capital(text)}${/[.?!)]$/.test(text) ? '' : '.'}`;
}

/** Whatever was thrown, as one sentence. */
function report(error: unknown): void {
  if (error instanceof CommanderError) {
    // Help and version have been printed.
    if (error.exitCode === 0) process.exitCode = 0;
    else if (error.code === 'commander.help')
      fail(
        'Say what to do: new, check, cuts, plan, takeoff, draw, export, explain or language-server; storypole --help tells more.',
      );
    else {
      const text = error.message.replaceAll(/\s*\n\s*/g, ' ');
      // What begins so is not in our words.
      fail(text.startsWith('error: ') ? sentence(text.slice('error: '.length)) : text);
    }
  } else if (error instanceof Stop) fail(error.message);
  else {
    const reason = error instanceof Error ? error.message : String(error);
    fail(
      `Something went wrong inside the tool: ${reason.replaceAll(/\s*\n\s*/g, ' ')}. STORYPOLE_DEBUG=1 shows where.`,
    );
    if (process.env.STORYPOLE_DEBUG && error instanceof Error) process.stderr.write(`${error.stack ?? ''}\n`);
  }
}

process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  // Whoever reads our output may have seen enough.
  if (error.code === 'EPIPE') process.exit(process.exitCode ?? 0);
  fail(`The output cannot be written: ${error.message}.`);
});
// Nobody is left to tell where standard error is closed.
process.stderr.on('error', () => undefined);
process.on('uncaughtException', (error) => {
  report(error);
  process.exit(2);
});

program().parseAsync().catch(report);
