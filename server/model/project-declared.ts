/** Whether a file declares a project: the one above all that makes its folder one, known before any project is. */
import type { Source } from '../../grammar/source.ts';
import type { Statement } from '../../grammar/tree.ts';
import { meantAtTop } from './may-declare.ts';

/** `slip`: it would, if the word were written right, as in `projct "Quarry Lane"`. */
export type Declaration = 'project' | 'slip' | 'none';

/** A file can declare one and have a slip of another; then the one counts. */
export function declarationIn(source: Source): Declaration {
  let found: Declaration = 'none';
  for (const statement of source.statements()) {
    if (statement.word.text === 'project') return 'project';
    if (found === 'none' && isSlip(statement)) found = 'slip';
  }
  return found;
}

/** Whether a text has to be read to find that out. */
export function mayDeclareProject(text: string): boolean {
  if (text.includes('project')) return true;
  for (const [, word = ''] of text.matchAll(titled)) if (meansProject(word)) return true;
  return false;
}

/** A word at the top level that has a title behind it, as no other but `use` has. */
const titled = /^\uFEFF?(\p{L}{4,10})[^\S\r\n]*"/gmu;

function isSlip({ word, items: [first] }: Statement): boolean {
  return first?.kind === 'text' && meansProject(word.text);
}

export function meansProject(word: string): boolean {
  return meantAtTop(word).includes('project');
}
