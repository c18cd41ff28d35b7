/** Other people's programs that read or draw what ours makes, so that a test does not only ask ourselves. */
import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';

function isMissing(error: unknown): boolean {
  return (error as NodeJS.ErrnoException).code === 'ENOENT';
}

/**
 * Standard output of a program; installs its Debian package first where it is missing and this process may.
 * @throws Error naming the one command to run when the program is missing and cannot be installed
 */
export function runOther(program: string, args: readonly string[], debianPackage: string): string {
  try {
    return execFileSync(program, args, { encoding: 'utf8' });
  } catch (cause) {
    if (!isMissing(cause)) throw cause;
    if (process.getuid?.() !== 0 || !existsSync('/usr/bin/apt-get'))
      throw new Error(`${program} is missing. Run: sudo apt-get install -y ${debianPackage}`, { cause });
  }
  execFileSync('apt-get', ['update', '-qq'], { stdio: 'inherit' });
  execFileSync('apt-get', ['install', '-y', '-qq', '--no-install-recommends', debianPackage], {
    stdio: 'inherit',
  });
  return execFileSync(program, args, { encoding: 'utf8' });
}
