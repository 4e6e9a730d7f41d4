/** The commands between the site and the files: what was measured comes in, and what it leads to is told. */
import { type Command, Option } from 'commander';
import { deliver } from './answer.ts';
import type { ExceptionsOptions } from './exceptions.ts';
import type { ImportOptions } from './import.ts';

/** `answering` begins a command that answers an exit status, in these formats. */
export function addSurveyCommands(
  command: Command,
  answering: (usage: string, description: string, formats: readonly string[]) => Command,
): void {
  command.commandsGroup('From site:');
  answering('import <table>', 'what was measured on site, from a table (.csv or .xlsx) into the surveys of a project', [
    'text',
    'json',
  ])
    .option('--project <folder>', 'the folder of the project, where not the current one')
    .option('--mapping <file>', 'what the columns of tables are (survey-columns.json in the folder of the project)')
    .option('--sheet <name>', 'the sheet of a workbook, where several hold something')
    .addOption(
      new Option('--unit-of-measure <unit>', 'of numbers for which neither the cell nor the heading says one').choices([
        'inches',
        'feet',
        'millimetres',
        'centimetres',
        'metres',
      ]),
    )
    .option('--decimal-comma', 'a comma in a number stands for decimals')
    .option('--into <file>', 'the file for surveys that are new, where not beside others of their floor')
    .option('--dry-run', 'show what would change, and write nothing')
    .option('--write-mapping', 'write what was recognised of the columns to the mapping file, and nothing else')
    .addHelpText(
      'after',
      '\nA table is taken whole or not at all: whatever cannot be read is told by its cell. Columns are known by their\nheadings: unit, wall, length, height, low, middle, high, ceiling, studs, corner left, diagonal, photos and such.\nWhat was recognised is kept in the mapping file, where it can be corrected.',
    )
    .action(async (table: string, options: ImportOptions) => {
      const { importTable } = await import('./import.ts');
      await deliver(await importTable(table, options), options.output);
    });
  answering(
    'exceptions [paths...]',
    'of the units with a survey: which fit as drawn, which only need other cut lengths, which need a decision',
    ['text', 'json', 'csv'],
  )
    .addOption(new Option('--by <what>', 'a table for each').choices(['floor', 'template']))
    .option('--exit-code', 'end with 1 where a unit needs a decision')
    .action(async (paths: string[], options: ExceptionsOptions) => {
      const { exceptions } = await import('./exceptions.ts');
      await deliver(exceptions(paths, options), options.output);
    });
}
