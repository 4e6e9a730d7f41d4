/** Why the system would not write, in words, after `cannot be written:`. */
export function reasonOf(error: unknown): string {
  const code = (error as { code?: string }).code ?? '';
  return known[code] ?? (error instanceof Error ? error.message : String(error));
}

const known: Readonly<Record<string, string>> = {
  ENOENT: 'its folder is not there',
  ENOTDIR: 'a part of its path is not a folder',
  EISDIR: 'a folder is in its place',
  EACCES: 'there is no permission to',
  EPERM: 'there is no permission to',
  EROFS: 'it is on a disk that cannot be written to',
  ENOSPC: 'the disk is full. Make room on it and try again',
  EDQUOT: 'all the room that you are given on the disk is taken. Make room and try again',
  EFBIG: 'it is larger than this disk lets a file be',
  EIO: 'the disk reports an error. Look after it before you try again',
  EMFILE: 'too many files are open. Close some programs, or raise the limit (ulimit -n)',
  ENFILE: 'too many files are open on this machine. Close some programs and try again',
  EXDEV: 'another disk begins at its place',
  EBUSY: 'another program holds it. Close it there and try again',
  ETXTBSY: 'another program holds it. Close it there and try again',
  ELOOP: 'a link in its path leads back to itself',
  ENAMETOOLONG: 'its name is too long',
  EINVAL: 'its name is none that this system takes',
  ERR_INVALID_ARG_VALUE: 'its name is none that this system takes',
};
