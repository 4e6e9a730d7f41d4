/**
 * What a finding is known by from one run to the next: its rule, its file, where in the text's structure it stands, what
 * it is about and what it says. Lines that move make no other finding of it; numbers that change do, so that one which
 * has become worse is told again. In how many units it is makes no difference, as where it is in all of them.
 */
import { createHash } from 'node:crypto';
import type { Statement } from '../../../grammar/tree.ts';
import { withoutHowMany } from '../../model/merge.ts';
import type { LocatedFinding } from '../located.ts';

/** Raised when it is made in another way, so that no reader compares the two. */
export const fingerprintVersion = 1;

/** One each, in their order: the same finding twice in one place has two, told apart by their order. */
export function fingerprintsOf(findings: readonly LocatedFinding[], pathOf: (file: string) => string): string[] {
  const seen = new Map<string, number>();
  return findings.map(({ file, finding }) => {
    const { rule, about, message, place } = finding;
    const key = JSON.stringify([
      rule.id,
      pathOf(file),
      placeWords(place.statement),
      about ?? '',
      withoutHowMany(message),
    ]);
    const count = seen.get(key) ?? 0;
    seen.set(key, count + 1);
    return createHash('sha256').update(`${key}\n${count}`).digest('hex').slice(0, 32);
  });
}

/** `template reach-in > zone shirts > shelf high`: the heads of what it stands in, outermost first. */
function placeWords(statement: Statement): string {
  const heads: string[] = [];
  let node: Statement | Statement['parent'] = statement;
  while (node.kind === 'statement') {
    heads.unshift(node.text.slice(node.head.start, node.head.end).replaceAll(/\s+/g, ' '));
    node = node.parent;
  }
  return heads.join(' > ');
}
