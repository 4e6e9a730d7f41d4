/** The commands that make files for the crew, the shop and the buyer. */
import { type Command, Option } from 'commander';
import { deliver } from './answer.ts';
import type { DrawOptions } from './draw.ts';
import { addExportCommand } from './export-command.ts';

interface Watching {
  readonly watch?: boolean;
}

/** `failing` gives a command the option that says from which severity on it ends with 1. */
export function addSheetCommands(command: Command, failing: (made: Command) => Command): void {
  failing(
    command
      .command('draw [paths...]')
      .summary('plans, elevations and sections')
      .description(
        'Draws the plan of each unit, each wall that carries something and a section through each zone: a file each, or as PDF a page each.',
      )
      .requiredOption('--out <path>', 'the folder to draw into, or the file where it is one drawing'),
  )
    .option('--unit <name>', 'this unit alone')
    .option('--plan', 'the plan')
    .option('--wall <name>', 'the elevation of this wall')
    .option('--section <zone>', 'the section through this zone')
    .addOption(new Option('--format <format>', 'how they are written').choices(['svg', 'pdf', 'dxf']).default('svg'))
    .addOption(new Option('--paper <paper>', 'the sheet they stand on').choices(['a4', 'a3', 'letter']).default('a4'))
    .addOption(
      new Option('--units <units>', 'how lengths are written, where not as in the project').choices([
        'inches',
        'feet',
        'millimetres',
      ]),
    )
    .addOption(
      new Option('--theme <theme>', 'ink on paper or on a dark ground').choices(['light', 'dark']).default('light'),
    )
    .option('--date <date>', 'the day on the sheets, where not today: 2026-11-28')
    .option('--replace', 'write over files that were not made by this command, too')
    .option('--watch', 'draw again after each change of the files, until Ctrl-C')
    .action(async (paths: string[], options: DrawOptions & Watching) => {
      const { draw } = await import('./draw.ts');
      if (options.watch) {
        const { watching } = await import('./watch.ts');
        await watching(paths, () => draw(paths, options));
      } else await deliver(await draw(paths, options), undefined);
    });
  addExportCommand(command, failing);
}
