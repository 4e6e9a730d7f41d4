/** Milliseconds that formatting takes, printed and never asserted: of a text in order, of one that is not, and after one edit. */
import { formattingOf } from '../../grammar/format.ts';
import { Source } from '../../grammar/source.ts';
import { topWords } from '../../server/model/vocabulary.ts';
import { longTemplate, manyUnits } from './texts.ts';

const rounds = 9;

/** The middle one of several times. */
function time(work: () => unknown): number {
  const times = Array.from({ length: rounds }, () => {
    const start = performance.now();
    work();
    return performance.now() - start;
  });
  return times.sort((a, b) => a - b)[rounds >> 1] as number;
}

/** The same text with nothing where the style has it. */
function untidy(text: string): string {
  return text.replace(/^ {2}/gm, '\t').replaceAll('; ', ';').replaceAll(' { ', '{  ').replaceAll('in\n', 'in ;\n\n\n');
}

const ms = (n: number): string => `${n.toFixed(1).padStart(7)} ms`;

for (const [name, make] of Object.entries({ 'many units': manyUnits, 'one template': longTemplate })) {
  console.log(`Formatting, ${name}: in order, not in order (edits)`);
  for (const lines of [1000, 10_000, 50_000]) {
    const tidy = new Source('tidy', make(lines), topWords);
    const messy = new Source('messy', untidy(make(lines)), topWords);
    const edits = formattingOf(messy).edits.length;
    console.log(
      `  ${String(lines).padStart(6)} lines: ${ms(time(() => formattingOf(tidy)))}, ${ms(time(() => formattingOf(messy)))} (${edits})`,
    );
  }
}
