/** Tables brought into small projects, and what became of the text. */
import { withEdits } from '../../../grammar/format.ts';
import type { Problem, Sheet } from '../../../server/language/survey-import/cells.ts';
import { type Mapping, noMapping } from '../../../server/language/survey-import/columns.ts';
import { readCsv } from '../../../server/language/survey-import/csv.ts';
import {
  type ImportAsked,
  type Imported,
  importSurvey,
  type Refused,
} from '../../../server/language/survey-import/survey-import.ts';
import type { Project } from '../../../server/model/project.ts';
import { projectOf } from '../../model/support.ts';

/** Three units of one closet, each with its own way to be measured. */
export const closets = `template linen {
  parameter width: length = 36in from 30in to 120in
  board white-16
  wall left { length 24in; height 96in }
  wall back { length width; height 96in }
  wall right { length 24in; height 96in }
  wall front { length width; height 96in }
  opening front { width 30in; height 80in; centred; leaves sliding }
  zone main on back { width fill; shelf top { at 72in } }
}
unit A-101 linen { floor 1; flat A-101 }
unit A-102 linen { floor 1; flat A-102 }
unit A-201 linen { floor 2; width 94in }
unit A-300 linen { count 6 }
`;

export function sheetOf(csv: string): Sheet {
  const sheet = readCsv(new TextEncoder().encode(csv), 'site.csv');
  if ('unreadable' in sheet) throw new Error(sheet.unreadable);
  return sheet;
}

export type Options = Partial<Omit<ImportAsked, 'project'>>;

export function importInto(project: Project, csv: string | Sheet, options: Options = {}): Imported | Refused {
  const mapping: Mapping = options.mapping ?? noMapping;
  return importSurvey(typeof csv === 'string' ? sheetOf(csv) : csv, { ...options, project, mapping });
}

/** The text of the project once the table is in it; throws where it was refused. */
export function taken(text: string, csv: string | Sheet, options: Options = {}): string {
  const made = importInto(projectOf(text), csv, options);
  if (made.kind === 'refused') throw new Error(refusedText(made).join('\n') || made.reasons.join('\n'));
  return withEdits(text, made.edits);
}

/** What was added behind the text. */
export function added(text: string, csv: string | Sheet, options: Options = {}): string {
  const after = taken(text, csv, options);
  if (!after.startsWith(text)) throw new Error(after);
  return after.slice(text.length).replace(/^\n/, '');
}

/** `C7 "93,75" There is a comma …` of each cell in the way. */
export function refusals(text: string, csv: string | Sheet, options: Options = {}): string[] {
  const made = importInto(projectOf(text), csv, options);
  if (made.kind === 'imported') throw new Error('It was taken.');
  return refusedText(made);
}

function refusedText({ problems }: Refused): string[] {
  return problems.map(({ cell, found, message }: Problem) => `${cell} "${found}" ${message}`);
}
