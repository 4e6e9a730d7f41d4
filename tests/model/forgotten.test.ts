/** What was computed of texts that are no longer there is let go of: a day of typing takes no more memory than an hour. */
import { expect, it } from 'vitest';
import { file, snapshotOf } from '../language/marked.ts';

it('the layouts of every version of a template that was typed are not kept', () => {
  const units = Array.from({ length: 40 }, (_, i) => `unit u${i} t { width ${60 + i}in }\n`).join('');
  const text = `board oak { depth 12in; thickness 3/4in }
template t {
  parameter width: length from 50in to 200in
  wall back { length width; height 96in }
  zone a on back { width fill; shelf s { at 40in; board oak } }
}
${units}`;
  const { project, source } = snapshotOf(text);
  const at = text.indexOf('40in;');
  for (let height = 10; height < 90; height++) {
    project.editFile(file, [{ start: at, end: at + 2, text: String(height) }]);
    for (const _ of project.refresh());
  }
  // 80 versions of more than 40 layouts each were computed.
  expect(project.stats.layoutsResolved).toBeGreaterThan(80 * 40);
  expect(project.layoutsKept).toBeLessThan(500);
  expect(source.text).toContain('at 89in');
  expect(project.findings().filter(({ severity }) => severity === 'error')).toEqual([]);
});
