/** Files of this machine are written as the terminal command writes its own; all others as `elsewhere` does. */
import type { FileToWrite as OnDisk } from '../server/writing/file-to-write.ts';
import { writeFiles } from '../server/writing/write-files.ts';
import type { FileToWrite, WriteFiles } from './writing.ts';

export function writeOnDisk(elsewhere: WriteFiles): WriteFiles {
  return async (files) => {
    if (files.some(({ uri }) => uri.scheme !== 'file')) return elsewhere(files);
    return (await writeFiles(files.map(onDisk))).notes;
  };
}

function onDisk({ uri, text, over, within }: FileToWrite): OnDisk {
  return {
    path: uri.fsPath,
    shown: uri.fsPath,
    pieces: [text],
    makesFolder: true,
    ...(over !== 'nothing' && { over: () => undefined }),
    ...(over instanceof Uint8Array && { expected: over }),
    ...(within && { within: within.fsPath }),
  };
}
