/** Going on on a phone: the code that lets it in, the address that it is to open, and what it does there. */
import { ApiError, ask, post } from '../sync/index.ts';

const at = (boardId: string): string => `/api/boards/${encodeURIComponent(boardId)}/hand-over`;

/** A code that works once. */
export interface HandOverCode {
  readonly code: string;
  /** Milliseconds since 1970. */
  readonly endsAt: number;
}

/** Rejects with {@link ApiError}, as all of these do; kind `not-found` where the server knows no links. */
export function giveCode(boardId: string, carried: string): Promise<HandOverCode> {
  return post(at(boardId), { carried });
}

/** Uses a code up. @returns what came along; kind `unknown-link` when it works no more */
export async function takeCode(boardId: string, code: string): Promise<string> {
  return (await post<{ readonly carried: string }>(`${at(boardId)}/take`, { code })).carried;
}

/** Addresses of the server in the house, for who sits at its machine. */
async function fetchOwnAddresses(boardId: string): Promise<readonly string[]> {
  return (await ask<{ readonly addresses: readonly string[] }>(at(boardId))).addresses;
}

/** The code in a fragment such as `#on=…`; null when there is none. */
export function codeIn(hash: string): string | null {
  return /^#on=([\w-]{32})$/.exec(hash)?.[1] ?? null;
}

/** What a phone opens. The code stands in the fragment, which browsers send to nobody. Rule N80. */
export function addressOfCode(origin: string, boardId: string, code: string): string {
  return `${origin}/board/${boardId}/table#on=${code}`;
}

/** Whether an address means only the machine that it is opened on. */
export function isOwnMachine(hostname: string): boolean {
  return (
    hostname === 'localhost' ||
    hostname.endsWith('.localhost') ||
    hostname === '[::1]' ||
    /^127(\.\d+){3}$/.test(hostname)
  );
}

/**
 * Origins at which a phone may reach the server; none where it can't. An address that means this machine alone is of no use there.
 * Rule N82.
 */
export async function reachableOrigins(
  boardId: string,
  { hostname, origin }: Pick<Location, 'hostname' | 'origin'>,
): Promise<readonly string[]> {
  return isOwnMachine(hostname) ? fetchOwnAddresses(boardId) : [origin];
}

/** Whether the code is what the server refused. */
export function isUsedUp(error: unknown): boolean {
  return error instanceof ApiError && error.kind === 'unknown-link';
}
