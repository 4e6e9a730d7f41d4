/** `storypole check --fix`: makes the obvious fixes, writes the files whole, and tells what it changed. */
import { planProject } from '../checks/analysis.ts';
import { isOfText, type Made, mended } from '../checks/mending.ts';
import { rules } from '../checks/table.ts';
import { nearest } from '../model/nearest.ts';
import type { FileToWrite } from '../writing/file-to-write.ts';
import { rewriting } from '../writing/sources.ts';
import { tidy } from '../writing/temporary.ts';
import { writeFiles } from '../writing/write-files.ts';
import type { Answer } from './answer.ts';
import { foldersIn } from './changed.ts';
import type { CheckOptions } from './check.ts';
import { diffOf, shownLine } from './diff.ts';
import { countsText } from './finding-text.ts';
import { countsOf, findingsOf, spot } from './located.ts';
import { type Session, sessionFor, statusOf } from './session.ts';
import { Stop } from './stop.ts';
import { type Chosen, choose, folderOfProject } from './targets.ts';
import { capital, counted, printable } from './words.ts';

export interface FixOptions extends CheckOptions {
  readonly fix: true;
  /** Only what this rule finds, notes too. */
  readonly rule?: string;
  /** Shows what would be changed, and writes nothing. */
  readonly dryRun?: boolean;
}

/** Throws Stop where there is nothing to check, a file cannot be written, or the options do not go together. */
export async function fix(paths: readonly string[], options: FixOptions): Promise<Answer> {
  if (options.format !== 'text') throw new Stop('--fix tells what it changed as text; leave --format out.');
  const { rule, dryRun } = options;
  const ids = rules.map(({ id }) => id);
  if (rule !== undefined && !ids.includes(rule)) {
    const near = nearest(rule, ids);
    throw new Stop(
      `There is no rule "${rule}"${near === undefined ? '. storypole explain lists them all.' : `; did you mean "${near}"?`}`,
    );
  }
  const session = sessionFor(options);
  const lines: string[] = [];
  const made: Made[] = [];
  const rewritten: FileToWrite[] = [];
  for (const chosen of choose(paths, session.current)) {
    const { project, files } = chosen;
    if (!dryRun) tidy(foldersIn([project]));
    const all = mended(project, {
      which: (finding) =>
        (rule === undefined ? isOfText(finding) : finding.rule.id === rule) &&
        (!files || files.has(spot(finding.place).file)),
      mayWrite: (file) => file.includes('/') && (!files || files.has(file)),
    });
    made.push(...all.made);
    for (const [file, text] of all.texts) {
      const before = project.sources.get(file)?.text ?? '';
      if (dryRun) lines.push(...diffOf(session.pathOf(file), before, text).map(shownLine));
      else {
        const within = folderOfProject(chosen);
        rewritten.push(rewriting({ path: file, shown: session.pathOf(file), within, before, after: text }));
      }
    }
  }
  const { notes } = await writeFiles(rewritten);
  const inOrder = made.toSorted((a, b) => (a.file < b.file ? -1 : a.file > b.file ? 1 : a.line - b.line));
  lines.push(...inOrder.map((one) => madeText(one, session)));
  // Counted anew from what is written; of a trial, nothing is.
  const left = choose(paths, session.current).flatMap((chosen) => findingsLeft(chosen));
  const done = `${dryRun ? 'Would make' : 'Made'} ${made.length === 0 ? 'no changes' : counted(made.length, 'change')}`;
  const counts = countsText(countsOf(left));
  const rest = `${dryRun ? 'there' : 'left'} ${/^1 [^,]*$/.test(counts) && !counts.includes(' and ') ? 'is' : 'are'}`;
  lines.push(`${made.length > 0 ? '\n' : ''}${done}; ${rest} ${counts}.`);
  return {
    status: statusOf(left, options.failOn),
    result: [`${lines.join('\n')}\n`],
    ...(notes.length > 0 && { remark: notes.join(' ') }),
  };
}

function findingsLeft(chosen: Chosen) {
  return findingsOf(chosen, planProject(chosen.project).findings);
}

/** `closet.closet:12 word-not-known: Write "shelf"`. */
function madeText({ file, line, finding, title }: Made, { pathOf, paint }: Session): string {
  return `${paint('bold', `${pathOf(file)}:${line}`)} ${paint('dim', finding.rule.id)}: ${printable(capital(title))}`;
}
