/** Windows says the same of what somebody looks at: a sheet that is open on the screen. */
const denied = process.platform === 'win32' ? 'permission is denied, or another program has it open' : 'permission is denied';

export const tooLarge = 'it is too large';

/** What the system says, in words. */
const reasons: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file or folder',
  EACCES: denied,
  EPERM: denied,
  ERR_ACCESS_DENIED: 'Node was started without the permission for it',
  EROFS: 'the disk is read-only',
  ENOSPC: 'the disk is full',
  EEXIST: 'there is a file where a folder should be',
  ENOTDIR: 'part of the path is a file and not a folder',
  EISDIR: 'it is a folder',
  ELOOP: 'the links go round in a circle',
  ENAMETOOLONG: 'the name is too long',
  EFBIG: 'the file would be larger than the system allows',
  EDQUOT: 'your share of the disk is used up',
  ERR_FS_FILE_TOO_LARGE: tooLarge,
  ERR_STRING_TOO_LONG: tooLarge,
  EIO: 'the disk does not answer',
  ESTALE: 'the disk does not answer',
  ETIMEDOUT: 'the disk does not answer',
  EMFILE: 'too many files are open',
  ENFILE: 'too many files are open',
  ENOMEM: 'there is no memory left',
  ERR_WORKER_INIT_FAILED: 'no more threads may begin',
  EBUSY: 'another program has it open',
  ENOTEMPTY: 'another program has written into it meanwhile',
};

/** Why something could not be done. */
export const reason = (error: unknown): string => {
  const code = (error as NodeJS.ErrnoException).code ?? '';
  return reasons[code] ?? (code || 'an unknown error');
};

const codeOf = (error: unknown): string => (error instanceof Error && 'code' in error ? String(error.code) : '');

/** Whether the system gives no more: files, memory, or threads. */
export const isExhausted = (error: unknown): boolean => ['EMFILE', 'ENFILE', 'ENOMEM', 'ERR_WORKER_INIT_FAILED'].includes(codeOf(error));

/** Whether the system does not let this user do it. */
export const isDenied = (error: unknown): boolean => ['EACCES', 'EPERM', 'ERR_ACCESS_DENIED'].includes(codeOf(error));

/** Whether threads may not begin, for want of something or of permission. */
export const isWithoutThreads = (error: unknown): boolean => isExhausted(error) || isDenied(error);

/** Whether the system did not say what is there: the next time it may. */
export const isNoAnswer = (error: unknown): boolean => isExhausted(error) || ['EIO', 'ESTALE', 'ETIMEDOUT'].includes(codeOf(error));
