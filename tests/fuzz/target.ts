/** What is fuzzed: a name, where to begin, how to go on from there, and what must hold. */
import type { Random } from './random.ts';

/**
 * A case is one text, whatever it stands for: so it can be kept as a file that people read, be changed by the same
 * mutations, and be made smaller by the same minimiser. Reading a case never fails; what makes no sense in it is left out.
 */
export interface Target {
  readonly name: string;
  readonly seeds: () => readonly string[];
  /** A case near another one. `others` are those that are known so far, to take pieces from. */
  readonly mutate: (text: string, random: Random, others: readonly string[]) => string;
  /** Throws where something does not hold. */
  readonly run: (text: string) => void | Promise<void>;
  /** Whether time grows no faster than the text; such a text said many times over is measured in the long run. */
  readonly repeated?: (text: string, times: number) => string;
}

/** Something that must hold, and does not. `law` is the same for all cases of one fault. */
export class Fault extends Error {
  readonly law: string;
  constructor(law: string, detail: string) {
    super(`${law}: ${detail}`);
    this.law = law;
  }
}

/** A text that cannot even be taken apart to be changed: a case of the grammar, whatever is being tried. */
export class NotTaken extends Error {
  readonly text: string;
  constructor(text: string, cause: unknown) {
    super('a text is not taken apart', { cause });
    this.text = text;
  }
}

export function holds(law: string, condition: boolean, detail: () => string): void {
  if (!condition) throw new Fault(law, detail());
}

/** The same for the same fault: by it a case is made smaller without becoming another one. */
export function signatureOf(error: unknown): string {
  if (error instanceof Fault) return error.law;
  if (!(error instanceof Error)) return String(error);
  const [frame = ''] = /at .*(grammar|server)\/[^\n]*/.exec(error.stack ?? '') ?? [];
  const where = frame.replace(/\(.*\/(grammar|server)\//, '($1/').replace(/:\d+:\d+\)?$/, '');
  return `${error.name} ${error.message.replace(/\d+/g, '#').slice(0, 80)} ${where}`.trim();
}
