import { printable } from '../model/printable.ts';

/** What a command comes to, and how it is brought to whoever asked. */
export interface Answer {
  /** The exit status: known before the first piece is written, as a reader may leave before the last. */
  readonly status: number;
  /** Made while it is written. Nothing in it may fail any more: half of it would be out already. */
  readonly result: Iterable<string>;
  /** Beside the result, on standard error. */
  readonly remark?: string | undefined;
}

/** To standard output, or to a file that is whole or not written at all: then throws Stop where it cannot be. */
export async function deliver({ status, result, remark }: Answer, output: string | undefined): Promise<void> {
  process.exitCode = status;
  if (output === undefined) await print(result);
  else {
    const { writeOutput } = await import('./output.ts');
    await writeOutput(output, process.cwd(), blocksOf(result));
  }
  if (remark !== undefined) process.stderr.write(`storypole: ${printable(remark)}\n`);
}

/** As fast as it is read. What goes wrong with the stream itself is told where the program starts. */
async function print(pieces: Iterable<string>): Promise<void> {
  const { stdout } = process;
  for (const block of blocksOf(pieces)) {
    if (stdout.destroyed) return;
    if (!stdout.write(block)) await new Promise((resolve) => stdout.once('drain', resolve));
  }
}

/** UTF-16 code units of a block: far fewer calls than pieces, and never much in hand. */
const blockSize = 64 * 1024;

function* blocksOf(pieces: Iterable<string>): Generator<string> {
  let block = '';
  for (const piece of pieces) {
    block += piece;
    if (block.length < blockSize) continue;
    yield block;
    block = '';
  }
  if (block !== '') yield block;
}
