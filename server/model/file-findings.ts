/** What is said of a file as a whole: that it cannot be read, stands alone, or is one of too many. */
import { type Place, placeOf, type Statement } from '../../grammar/tree.ts';
import { lineEndAt } from './edits.ts';
import { nameOf, parentOf } from './files.ts';
import { type Finding, type Fix, finding } from './finding.ts';
import { limits } from './limits.ts';
import * as rules from './rules.ts';

const largestFile = limits.largestFile.most;

export function unreadable(place: Place, path: string, why: string): Finding {
  return finding(rules.fileUnreadable, place, `"${nameOf(path)}" cannot be read: ${why}.`, {
    advice: 'See that it is there and may be read, or move it out of the project.',
  });
}

export function notText(place: Place, why: string): Finding {
  return finding(rules.fileNotText, place, why, {
    advice: 'Save it as UTF-8 and check the letters that are not plain ASCII.',
  });
}

export function tooLarge(place: Place, size: number): Finding {
  return finding(
    rules.fileTooLarge,
    place,
    `The file holds ${(size / 1024 / 1024).toFixed(1)} MB; files of more than ${largestFile / 1024 / 1024} MB are not read.`,
    {
      advice: 'Divide it into several files: all files in the folder of a project belong to it.',
      comparison: { what: 'bytes', measured: { count: size }, relation: 'at most', limit: { count: largestFile } },
    },
  );
}

/** Told at the first file of a project that has more than are read. */
export function notAll(place: Place, problem: string): Finding {
  return finding(rules.tooMany, place, problem, {
    advice: 'Divide it into several projects, a folder each. What was not read is not checked.',
  });
}

/** `why`: what keeps a project above it from being found. */
export function standsAlone(place: Place, path: string, why: string | undefined): Finding {
  const declared = `project "${titleOf(path)}" { show inches }`;
  return finding(
    rules.noProject,
    startLine(place),
    why === undefined
      ? 'This file belongs to no project, so it is checked by itself with the defaults.'
      : `This file belongs to no project in the folder that is open, and ${why}; so it is checked by itself with the defaults.`,
    {
      advice:
        why === undefined
          ? 'Declare one in its folder or above it: project "Name" { show inches }'
          : 'Open the folder that the project is in, or declare one here: project "Name" { show inches }',
      fixes: [declaredBefore(place.statement, declared)],
    },
  );
}

/** Told of a file that somebody has opened in a folder in which a project does not look. */
export function passedOver(place: Place, folder: string): Finding {
  return finding(
    rules.noProject,
    startLine(place),
    `This file lies in "${folder}", a folder in which a project does not look for its files, so it is checked by itself with the defaults.`,
    { advice: 'For a library that is as it should be. A file of the project belongs in another folder.' },
  );
}

/** The folder's name is what a project begins with; none is taken where it is no name for people. */
function titleOf(file: string): string {
  const folder = nameOf(parentOf(file));
  return /^[\p{L}\p{N}][\p{L}\p{N} ._-]*$/u.test(folder) ? folder : 'Name';
}

/** By hand: what the project is to be called, and what it is to show, is for somebody to say. */
function declaredBefore(statement: Statement, declared: string): Fix {
  const start = statement.doc === undefined ? statement.word.start : 0;
  const ending = lineEndAt(statement, start);
  const edits = [{ place: { statement, start, end: start }, text: `${declared}${ending}${ending}` }];
  return { title: `Write ${declared}`, edits, byHand: true };
}

/** The hint about a whole file sits on the first word of it. */
function startLine(place: Place): Place {
  const { statement } = place;
  return placeOf(statement, statement.word);
}
