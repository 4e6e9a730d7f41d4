/** What a template is built on, for whoever only asks: blueprint.ts merges it, and tells of circles. */
import type { Statement } from '../../grammar/tree.ts';
import type { Declared } from './names.ts';
import { dotted, pathIn } from './reading.ts';

/** A template and those that it extends, itself first; each is named as its own project or library names it. Ends at a circle. */
export function* lineage(template: Declared | undefined): Generator<Declared> {
  const seen = new Set<Statement>();
  for (let next = template; next && !seen.has(next.statement); ) {
    seen.add(next.statement);
    yield next;
    const base = pathIn(next.reading, 'base');
    next = base && next.home.find('template', dotted(base));
  }
}
