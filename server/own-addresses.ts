/** At which addresses other devices in the house reach this server. */
import type { NetworkInterfaceInfo } from 'node:os';
import { isIP } from 'node:net';
import { isLoopbackHost } from './client-address.ts';

/** Hosts that stand for every address of the machine. */
const ANY = new Set(['0.0.0.0', '::']);

type Interfaces = Readonly<
  Record<string, readonly Pick<NetworkInterfaceInfo, 'address' | 'family' | 'internal'>[] | undefined>
>;

/**
 * Addresses to type into a browser, `http://192.168.0.7:8080`; none where the server listens to its own machine alone.
 * @param host where it listens
 * @param interfaces of the machine
 * Rule V535.
 */
export function ownAddresses(host: string, port: number, interfaces: Interfaces): readonly string[] {
  if (isLoopbackHost(host)) return [];
  if (!ANY.has(host)) return [`http://${isIP(host) === 6 ? `[${host}]` : host}:${port}`];
  // IPv4: one that a phone in the same house has as well, and that is short.
  return Object.values(interfaces)
    .flatMap((own) => own ?? [])
    .filter(({ family, internal }) => family === 'IPv4' && !internal)
    .map(({ address }) => `http://${address}:${port}`);
}
