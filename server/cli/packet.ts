/** `storypole packet`: install packets as PDF, all in one file or a file for each unit. */
import { join } from 'node:path';
import { packetFile, packetOf } from '../sheets/packet/packet.ts';
import type { Answer } from './answer.ts';
import { fileName, fileNames } from './file-names.ts';
import { lettering } from './fonts.ts';
import { deliverFiles, type MadeFile } from './made.ts';
import { progressOf } from './progress.ts';
import { doNotCut, statusOf } from './session.ts';
import { type Asked, askedFor, isPdf, onlyOne, type SheetOptions } from './sheets.ts';
import { Stop } from './stop.ts';
import { counted, printable } from './words.ts';

export interface PacketOptions extends SheetOptions {
  readonly each?: boolean | undefined;
}

/** Throws Stop where there is nothing of the name or a file cannot be written; then none has been. */
export async function packet(paths: readonly string[], options: PacketOptions): Promise<Answer> {
  if (options.each && isPdf(options.out))
    throw new Stop(
      `With --each there is a file for each unit: --out takes a folder, and ${printable(options.out)} is the name of a PDF.`,
    );
  const asked = askedFor(paths, options);
  const letters = lettering();
  const count = asked.reduce((sum, { units }) => sum + units.length, 0);
  const progress = progressOf(count, 'units');
  try {
    const files = options.each ? filesOfEach(asked, options) : [oneFile(onlyOne(asked), options)];
    await deliverFiles(files, options, 'Take one floor at a time (--floor), or a file for each unit (--each).');
  } finally {
    progress.end();
  }
  const findings = asked.flatMap((one) => one.findings);
  return {
    status: statusOf(findings, options.failOn),
    result: [`Made ${counted(count, 'install packet')} in ${printable(options.out)}.\n`],
    remark: doNotCut(findings),
  };

  function oneFile({ chosen, units, job, ofPlan }: Asked, { out, unit, floor }: PacketOptions): MadeFile {
    const what = unit ?? (floor === undefined ? job.title : `${job.title} floor ${floor}`);
    const path = isPdf(out) ? out : join(out, `${fileName(`${what} install packet`)}.pdf`);
    const subject = unit === undefined ? 'Install packets' : `Install packet ${unit}`;
    function* packets() {
      for (const one of units) yield packetOf(chosen.project, one, job.style, ofPlan(one.name));
    }
    return { path, stream: packetFile(packets(), units.length, job, letters, subject, progress.at) };
  }

  function* filesOfEach(all: readonly Asked[], { out }: PacketOptions): Generator<MadeFile> {
    let done = 0;
    const folders = fileNames(
      all.map(({ job }) => job.title),
      '',
    );
    for (const [i, { chosen, units, job, ofPlan }] of all.entries()) {
      const folder = all.length === 1 ? out : join(out, folders[i] ?? '');
      const names = fileNames(
        units.map(({ name }) => name),
        '.pdf',
      );
      for (const [k, unit] of units.entries()) {
        const packets = [packetOf(chosen.project, unit, job.style, ofPlan(unit.name))];
        const stream = packetFile(packets, 1, job, letters, `Install packet ${unit.name}`);
        yield { path: join(folder, names[k] ?? ''), stream };
        progress.at(++done);
      }
    }
  }
}
