/** `storypole boards`: the cutting plan drawn board by board, as PDF for the saw. */
import { join } from 'node:path';
import { boardFile } from '../sheets/shop/board-pages.ts';
import type { Answer } from './answer.ts';
import { fileName } from './file-names.ts';
import { lettering } from './fonts.ts';
import { deliverFiles } from './made.ts';
import { doNotCut, statusOf } from './session.ts';
import { askedFor, isPdf, onlyOne, type SheetOptions } from './sheets.ts';
import { counted, printable } from './words.ts';

export type BoardsOptions = Omit<SheetOptions, 'unit' | 'floor'>;

/** Boards are shared by the whole project. Throws Stop where the file cannot be written. */
export async function boards(paths: readonly string[], options: BoardsOptions): Promise<Answer> {
  const { job, findings } = onlyOne(askedFor(paths, options, 'parts'));
  const path = isPdf(options.out) ? options.out : join(options.out, `${fileName(`${job.title} boards`)}.pdf`);
  await deliverFiles(
    [{ path, stream: boardFile(job, lettering()) }],
    options,
    'Divide the project: boards are shared by the whole of one.',
  );
  return {
    status: statusOf(findings, options.failOn),
    result: [`Drew ${counted(job.boards.boards.length, 'board')} in ${printable(path)}.\n`],
    remark: doNotCut(findings),
  };
}
