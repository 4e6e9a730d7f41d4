/** A statement to fill in, made from the phrase of its word. */
import type { Phrase } from '../model/phrase.ts';
import type { WordEntry } from '../model/vocabulary.ts';

/** `zone ${1:name} {\n\t$0\n}`: what the phrase needs, without what it may have. */
export function snippetOf({ word, phrase, needsBlock }: WordEntry): string {
  let next = 1;
  const visit = (node: Phrase['node']): string[] => {
    switch (node.kind) {
      case 'literal':
        return [node.text];
      case 'slot':
        return [node.type.kind === 'text' ? `"\${${next++}:${node.name}}"` : `\${${next++}:${node.name}}`];
      case 'sequence':
        return node.parts.flatMap(visit);
      case 'optional':
        return [];
      case 'choice': {
        // The last way to say it is the plain one: `(fill | from A to B | <value>)`. Of bare words, all are offered.
        const words = node.parts.flatMap((p) => (p.kind === 'literal' ? [p.text] : []));
        if (words.length === node.parts.length) return [`\${${next++}|${words.join(',')}|}`];
        const plain = node.parts.at(-1);
        return plain ? visit(plain) : [];
      }
    }
  };
  const head = [word, ...visit(phrase.node)].join(' ');
  return needsBlock ? `${head} {\n\t$0\n}` : head;
}
