/** Commands that print sheets as PDF: install packets, the cutting plan board by board, labels. */
import { type Command, Option } from 'commander';
import { deliver } from './answer.ts';
import type { BoardsOptions } from './boards.ts';
import type { LabelsOptions } from './labels.ts';
import type { PacketOptions } from './packet.ts';
import { capital } from './words.ts';

/** `failing` gives a command the option that says which findings end it with 1. */
export function addPrintCommands(command: Command, failing: (made: Command) => Command): void {
  const printing = (usage: string, description: string): Command =>
    failing(
      command
        .command(usage)
        .summary(description)
        .description(`${capital(description)}.`)
        .requiredOption('--out <path>', 'the PDF file, or the folder to write into'),
    )
      .addOption(
        new Option('--units <units>', 'how lengths are written, where not as in the project').choices([
          'inches',
          'feet',
          'millimetres',
        ]),
      )
      .option('--date <date>', 'the day on the sheets, where not today: 2026-11-28')
      .option('--replace', 'write over files that were not made by this command, too');
  const onPaper = (made: Command): Command =>
    made.addOption(new Option('--paper <paper>', 'what they are printed on').choices(['a4', 'letter']).default('a4'));

  onPaper(printing('packet [paths...]', 'install packets as PDF: drawings, mark-out, screws, cut list, order, checks'))
    .option('--unit <name>', 'this unit alone')
    .option('--floor <floor>', 'the units of this floor')
    .option('--each', 'a file for each unit')
    .option('--watch', 'make them again after each change of the files, until Ctrl-C')
    .action(async (paths: string[], options: PacketOptions & { readonly watch?: boolean }) => {
      const { packet } = await import('./packet.ts');
      if (options.watch) {
        const { watching } = await import('./watch.ts');
        await watching(paths, () => packet(paths, options));
      } else await deliver(await packet(paths, options), undefined);
    });
  onPaper(
    printing('boards [paths...]', 'the cutting plan drawn board by board as PDF, each piece with its part'),
  ).action(async (paths: string[], options: BoardsOptions) => {
    const { boards } = await import('./boards.ts');
    await deliver(await boards(paths, options), undefined);
  });
  printing('labels [paths...]', 'a label for each part as PDF, in words and as a QR code')
    .option('--unit <name>', 'parts of this unit alone')
    .option('--floor <floor>', 'parts of the units of this floor')
    .option('--label <size>', 'width and height of a label', '70x37mm')
    .option('--sheet <size>', 'a4, letter, or width and height of what they are printed on', 'a4')
    .option(
      '--margin <size>',
      'from the left and the upper edge to the first label: 8x13mm; without it they stand in the middle',
    )
    .option('--gap <size>', 'between two labels, across and down: 2.5x0mm')
    .option('--start <number>', 'the first label of the first sheet that is still free, counted along the rows from 1')
    .action(async (paths: string[], options: LabelsOptions) => {
      const { labels } = await import('./labels.ts');
      await deliver(await labels(paths, options), undefined);
    });
}
