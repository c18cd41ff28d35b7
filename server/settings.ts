/** Settings from the environment. A value that cannot be is an error at start, never a silent default. */
import { DEFAULT_MAKING_LIMITS, type MakingLimits } from './http/index.ts';
import { type LogLevel, readLogLevel } from './log.ts';
import { DEFAULT_SYNC_LIMITS, type SyncLimits } from './sync/index.ts';
import { DEFAULT_WRITTEN_BYTES } from './written-bytes.ts';

export interface Settings {
  readonly host: string;
  /** 0 = any free port. */
  readonly port: number;
  readonly dataDir: string;
  readonly allowedOrigins: readonly string[];
  /** Whether a proxy in front tells the asker's address and scheme in `X-Forwarded-For` and `-Proto`. */
  readonly trustProxy: boolean;
  /** Shown in `Authorization: Bearer …` it opens `/metrics` to other machines; null = none does. */
  readonly metricsToken: string | null;
  readonly logLevel: LogLevel;
  /** `links`: boards open to who holds a link. `address`: to who knows the address; only for one's own machine. */
  readonly access: 'links' | 'address';
  /** PostgreSQL instead of SQLite; null = SQLite in dataDir. */
  readonly databaseUrl: string | null;
  /** Redis between several nodes; null = one node. */
  readonly redisUrl: string | null;
  readonly limits: SyncLimits;
  /** What may be made in an hour. */
  readonly making: MakingLimits;
  /** Bytes that those at one address who are new or unknown may have stored in an hour. */
  readonly writtenBytes: number;
  /** So many times what is set for requests over HTTP, of each kind and share. */
  readonly requestTimes: number;
  /** Archives that are received, unpacked, packed or sent at once, all together. */
  readonly archiveBytes: number;
  /** How long a server that is told to end goes on serving, no longer ready, so that a balancer in front sends people elsewhere. */
  readonly drainMs: number;
  /** How long a shutdown may take to store what is left. */
  readonly shutdownMs: number;
  /** Size each SQLite file may grow to; null = what the disk holds. */
  readonly maxStoreBytes: number | null;
  /** Commits begin at least so far apart; what comes meanwhile goes together. */
  readonly gatherMs: number;
}

/** Environment variables of the limits. */
const LIMIT_SETTINGS: Readonly<Record<string, keyof SyncLimits>> = {
  MAX_CONNECTIONS: 'connections',
  MAX_CONNECTIONS_PER_ADDRESS: 'connectionsPerAddress',
  MAX_CONNECTIONS_PER_PERSON: 'connectionsPerPerson',
  MAX_CONNECTIONS_OF_NEWCOMERS: 'connectionsOfNewcomers',
  MAX_CONNECTIONS_OF_STRANGERS: 'connectionsOfStrangers',
  MAX_NEW_PER_ADDRESS: 'newPerAddress',
  MAX_ROOMS: 'rooms',
  MAX_MESSAGE_BYTES: 'messageBytes',
  MAX_MESSAGES_PER_SECOND: 'messagesPerSecond',
  MAX_BYTES_PER_SECOND: 'bytesPerSecond',
  MAX_PRESENCE_BYTES: 'presenceBytes',
  MAX_DOCUMENT_BYTES: 'documentBytes',
  MAX_NEW_CLIENTS: 'newClients',
  MAX_NEW_CLIENTS_IN_COPY: 'newClientsInCopy',
  MAX_STEPS: 'steps',
  MAX_UNSAVED_BYTES: 'unsavedBytes',
  MAX_UNSAVED_BYTES_IN_ALL: 'unsavedBytesInAll',
  MAX_COPY_BYTES_IN_ALL: 'copyBytesInAll',
  MAX_READER_BYTES: 'readerBytes',
  MAX_QUEUED_BYTES: 'queuedBytes',
  MAX_QUEUED_BYTES_PER_PERSON: 'queuedBytesPerPerson',
  MAX_QUEUED_BYTES_PER_ADDRESS: 'queuedBytesPerAddress',
  RENEW_BYTES: 'renewBytes',
  ASIDE_MS: 'asideMs',
  MAX_READER_MS: 'readerMs',
  MAX_RESYNC_MS: 'resyncMs',
};

type Environment = Readonly<Record<string, string | undefined>>;

function readNumber(env: Environment, name: string, fallback: number, from: number, to: number): number {
  const text = env[name];
  if (text === undefined || text === '') return fallback;
  const value = Number(text);
  if (!Number.isInteger(value) || value < from || value > to)
    throw new RangeError(
      `${name} is ${JSON.stringify(text)}; it must be a whole number from ${from} to ${to}`,
    );
  return value;
}

/** A secret of the operator's choice; null without one. Its value stands in no message. */
function readToken(env: Environment, name: string): string | null {
  const text = env[name] || '';
  if (text !== '' && !/^[\w.~+/=-]{16,200}$/.test(text))
    throw new RangeError(`${name} must be 16 to 200 characters of those that a bearer token has`);
  return text || null;
}

/** @throws RangeError naming the variable whose value cannot be */
export function readSettings(env: Environment): Settings {
  const limits: Record<string, number> = { ...DEFAULT_SYNC_LIMITS };
  for (const [name, limit] of Object.entries(LIMIT_SETTINGS))
    limits[limit] = readNumber(
      env,
      name,
      DEFAULT_SYNC_LIMITS[limit],
      limit === 'renewBytes' ? 0 : 1,
      2 ** 40,
    );
  const level = readLogLevel(env.LOG_LEVEL || 'info');
  if (level === null)
    throw new RangeError(`LOG_LEVEL is ${JSON.stringify(env.LOG_LEVEL)}; debug, info, warn or error`);
  const origins = (env.ALLOWED_ORIGINS || '').split(',').map((origin) => origin.trim());
  for (const origin of origins)
    if (origin !== '' && (!URL.canParse(origin) || new URL(origin).origin !== origin))
      throw new RangeError(`ALLOWED_ORIGINS holds ${JSON.stringify(origin)}; write scheme, host and port`);
  const trust = env.TRUST_PROXY || '0';
  if (trust !== '0' && trust !== '1') throw new RangeError(`TRUST_PROXY is ${JSON.stringify(trust)}; 0 or 1`);
  const access = env.ACCESS || 'links';
  if (access !== 'links' && access !== 'address')
    throw new RangeError(`ACCESS is ${JSON.stringify(access)}; links or address`);
  if ((env.REDIS_URL || '') !== '' && (env.DATABASE_URL || '') === '')
    throw new RangeError('REDIS_URL joins nodes that share a database; set DATABASE_URL too');
  return {
    host: env.HOST || '127.0.0.1',
    port: readNumber(env, 'PORT', 8080, 0, 65_535),
    dataDir: env.DATA_DIR || './data',
    allowedOrigins: origins.filter((origin) => origin !== ''),
    trustProxy: trust === '1',
    metricsToken: readToken(env, 'METRICS_TOKEN'),
    logLevel: level,
    access,
    databaseUrl: env.DATABASE_URL || null,
    redisUrl: env.REDIS_URL || null,
    limits: limits as unknown as SyncLimits,
    making: {
      boards: readNumber(env, 'MAX_BOARDS_PER_HOUR', DEFAULT_MAKING_LIMITS.boards, 1, 2 ** 40),
      archives: readNumber(env, 'MAX_ARCHIVES_PER_HOUR', DEFAULT_MAKING_LIMITS.archives, 1, 2 ** 40),
    },
    writtenBytes: readNumber(env, 'MAX_WRITTEN_BYTES_PER_HOUR', DEFAULT_WRITTEN_BYTES, 1, 2 ** 50),
    requestTimes: readNumber(env, 'REQUEST_TIMES', 1, 1, 1_000_000),
    archiveBytes: readNumber(env, 'MAX_ARCHIVE_BYTES', 256 * 1024 * 1024, 1, 2 ** 40),
    // Without other nodes there is nowhere else to send anybody.
    drainMs: readNumber(env, 'DRAIN_MS', env.REDIS_URL ? 5_000 : 0, 0, 600_000),
    shutdownMs: readNumber(env, 'SHUTDOWN_MS', 10_000, 0, 600_000),
    maxStoreBytes: readNumber(env, 'MAX_STORE_BYTES', 0, 0, 2 ** 45) || null,
    gatherMs: readNumber(env, 'GATHER_MS', env.DATABASE_URL ? 100 : 250, 0, 1_000),
  };
}
