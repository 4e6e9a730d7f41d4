/** `storypole labels`: a label for each part, on sheets of any size, as PDF. */
import { join } from 'node:path';
import { TICKS_PER_MM } from '../model/ticks.ts';
import { papers } from '../sheets/pdf/page.ts';
import { type LabelSheet, labelSheet } from '../sheets/shop/label-sheet.ts';
import { labelFile, labelsOf } from '../sheets/shop/labels.ts';
import type { Answer } from './answer.ts';
import { fileName } from './file-names.ts';
import { lettering } from './fonts.ts';
import { readLength } from './length-text.ts';
import { deliverFiles } from './made.ts';
import { doNotCut, statusOf } from './session.ts';
import { askedFor, isAllAsked, isPdf, onlyOne, type SheetOptions } from './sheets.ts';
import { Stop } from './stop.ts';
import { extrasOf, sparesOf } from './targets.ts';
import { counted, printable } from './words.ts';

export interface LabelsOptions extends Omit<SheetOptions, 'paper'> {
  readonly label: string;
  readonly sheet: string;
  readonly margin?: string | undefined;
  readonly gap?: string | undefined;
  readonly start?: string | undefined;
}

/** Throws Stop where the labels have no room on the sheet, or the file cannot be written. */
export async function labels(paths: readonly string[], options: LabelsOptions): Promise<Answer> {
  const sheet = sheetOf(options);
  const start = startOf(options.start, sheet);
  const { chosen, units, findings, job } = onlyOne(askedFor(paths, { ...options, paper: 'a4' }, 'parts'));
  const isWhole = isAllAsked(options);
  const all = { ...chosen, files: undefined };
  const made = labelsOf(
    {
      units,
      extras: isWhole ? extrasOf(chosen) : [],
      spares: isWhole && sparesOf(chosen).length === sparesOf(all).length,
    },
    job,
  );
  if (made.length === 0) throw new Stop('Nothing is to be cut there, so there is nothing to label.');
  const path = isPdf(options.out) ? options.out : join(options.out, `${fileName(`${job.title} labels`)}.pdf`);
  let bare = 0;
  const stream = labelFile(made, sheet, start, job, lettering(), () => {
    bare++;
  });
  await deliverFiles([{ path, stream }], options, 'Take one floor (--floor) or one unit (--unit) at a time.');
  const sheets = Math.ceil((made.length + start - 1) / (sheet.columns * sheet.rows));
  const remarks = [
    bare === 0
      ? undefined
      : `${counted(bare, 'label')} ${bare === 1 ? 'has' : 'have'} no QR code: on a label of this size it would be too fine to be read.`,
    doNotCut(findings),
  ].filter((text) => text !== undefined);
  return {
    status: statusOf(findings, options.failOn),
    result: [`Made ${counted(made.length, 'label')} on ${counted(sheets, 'sheet')} in ${printable(path)}.\n`],
    remark: remarks.length > 0 ? remarks.join(' ') : undefined,
  };
}

function sheetOf({ label, sheet, margin, gap }: LabelsOptions): LabelSheet {
  const named = papers[sheet.toLowerCase() as keyof typeof papers];
  const [width, height] = named ? [named.width, named.height] : twoLengths('--sheet', sheet, false);
  const [across, down] = twoLengths('--label', label, false);
  const edge = margin === undefined ? undefined : twoLengths('--margin', margin, true);
  const between = gap === undefined ? undefined : twoLengths('--gap', gap, true);
  const made = labelSheet({
    sheet: { width, height },
    label: { width: across, height: down },
    margin: edge && { left: edge[0], top: edge[1] },
    gap: between && { across: between[0], down: between[1] },
  });
  if (made.kind === 'refused') throw new Stop(made.why);
  return made.sheet;
}

/** `70x37mm`, `2-5/8in x 1in`; where nothing may be as well, `5mm` for both and `0`. In millimetres. */
function twoLengths(option: string, written: string, isNoneAllowed: boolean): [number, number] {
  const parts = written.trim().split(/\s*[x×]\s*/i);
  const [first = '', second = first] = parts;
  const measure = /[a-z"']+\s*$/i.exec(second)?.[0] ?? '';
  const read = (text: string): number => {
    if (isNoneAllowed && /^0+(\.0+)?\s*(mm|cm|in)?$/.test(text)) return 0;
    const length = readLength(/[a-z"']\s*$/i.test(text) ? text : `${text}${measure}`);
    if (length.kind === 'refused') throw new Stop(`${option} ${printable(written)}: ${length.why}`);
    return length.length / TICKS_PER_MM;
  };
  if (parts.length > 2 || (parts.length === 1 && !isNoneAllowed))
    throw new Stop(`${option} takes a width and a height, as 70x37mm, and "${printable(written)}" is not that.`);
  return [read(first), read(second)];
}

function startOf(written: string | undefined, { columns, rows }: LabelSheet): number {
  if (written === undefined) return 1;
  const start = Number(written);
  if (!/^\d+$/.test(written) || start < 1 || start > columns * rows)
    throw new Stop(
      `--start says which label of the first sheet is the first that is free, from 1 to ${columns * rows} here, and "${printable(written)}" is none of them.`,
    );
  return start;
}
