/** What an error of PostgreSQL, or of the way there, means to who asked. */
import { describe, expect, it } from 'vitest';
import { StoreError } from '../../../server/store/index.ts';
import { pgStoreError } from '../../../server/store/postgres-connect.ts';

describe('an error of the database', () => {
  it('[V72] [V75] is told by its code as what it is: whether waiting, room or repair helps', () => {
    // The names are those of the appendix on error codes in the manual of PostgreSQL.
    const kinds = {
      '53100 disk_full': 'full',
      '53200 out_of_memory': 'full',
      '25006 read_only_sql_transaction': 'read-only',
      '55P03 lock_not_available': 'locked',
      '40P01 deadlock_detected': 'locked',
      '40001 serialization_failure': 'locked',
      'XX001 data_corrupted': 'damaged',
      'XX002 index_corrupted': 'damaged',
      '57P01 admin_shutdown': 'unavailable',
      ECONNREFUSED: 'unavailable',
    };
    for (const [named, kind] of Object.entries(kinds)) {
      const code = named.split(' ')[0]!;
      const cause = Object.assign(new Error('what it says'), { code });
      const error = pgStoreError(cause);
      expect([named, error.kind, error.message]).toEqual([named, kind, `${code}: what it says`]);
      expect(error.cause).toBe(cause);
    }
  });

  it('[V72] is unavailable where nothing is known of it, with all that was said; what is told already stays', () => {
    for (const [cause, message] of [
      [new Error('timeout expired'), 'timeout expired'],
      ['gone', 'gone'],
      [undefined, 'undefined'],
    ] as const)
      expect(pgStoreError(cause)).toMatchObject({ kind: 'unavailable', message });
    const told = new StoreError('full', 'no room');
    expect(pgStoreError(told)).toBe(told);
  });
});
