/** The words of `storypole export`. */
import { type Command, Option } from 'commander';
import { deliver } from './answer.ts';
import type { ExportOptions } from './export.ts';

/** `failing` gives a command the option that says from which severity on it ends with 1. */
export function addExportCommand(command: Command, failing: (made: Command) => Command): void {
  failing(
    command
      .command('export [paths...]')
      .summary('lists as a workbook, CSV or JSON, and a page for a phone on site')
      .description(
        'Writes the lists of a project (units, cut list, parts, boards, cutting plan, bill of materials, takeoff, mark-out, findings) as a workbook, CSV or JSON, and its page for a phone on site.',
      )
      .requiredOption('--out <path>', 'the file, whose ending says what is written, or the folder to write into'),
  )
    .option('--xlsx', 'into a folder: a workbook, a sheet for each list')
    .option('--csv', 'into a folder: a file for each list')
    .option('--json', 'into a folder: all lists in one file')
    .option('--html', 'into a folder: the page for the site, which needs no network')
    .option('--list <names>', 'these lists alone, with commas between them')
    .option('--unit <name>', 'this unit alone')
    .option('--floor <floor>', 'this floor alone')
    .option('--spare <percent>', 'so much more of each line of hardware and screws, before packs: 5%')
    .addOption(
      new Option('--units <units>', 'how lengths are written, where not as in the project').choices([
        'inches',
        'feet',
        'millimetres',
      ]),
    )
    .option('--byte-order-mark', 'begin CSV with one, for programs that take UTF-8 for something else without')
    .option('--date <date>', 'the day that is written, where not today: 2026-11-28')
    .option('--replace', 'write over files that were not made by this command, too')
    .option('--watch', 'write again after each change of the files, until Ctrl-C')
    .action(async (paths: string[], options: ExportOptions & { readonly watch?: boolean }) => {
      const { exportTo } = await import('./export.ts');
      if (options.watch) {
        const { watching } = await import('./watch.ts');
        await watching(paths, () => exportTo(paths, options));
        return;
      }
      await deliver(await exportTo(paths, options), undefined);
    });
}
