/**
 * Where an asker comes from, as far as limits go. Whoever has IPv6 has a network of 64 bits to choose addresses from (RFC 6177 gives a
 * site no less), so a limit counts the network; IPv4 written as IPv6 (RFC 4291, 2.5.5.2) is IPv4.
 */
import { BlockList, isIP, isIPv6 } from 'node:net';

/** The address that limits count: IPv4 as it is, of IPv6 the network of 64 bits; anything else as it is. */
export function countedAddress(address: string): string {
  const plain = address.replace(/^\[|\]$/g, '').split('%')[0]!;
  if (!isIPv6(plain)) return address;
  const mapped = /^::ffff:(\d+\.\d+\.\d+\.\d+)$/i.exec(plain);
  if (mapped !== null) return mapped[1]!;
  const [head = '', tail] = plain.toLowerCase().split('::');
  const groups = (text: string): string[] => (text === '' ? [] : text.split(':'));
  const [left, right] = [groups(head), groups(tail ?? '')];
  // A dotted end stands for two groups; it never reaches into the network.
  const count = left.length + right.length + (plain.includes('.') ? 1 : 0);
  const gap = tail === undefined ? [] : Array.from({ length: 8 - count }, () => '0');
  const network = [...left, ...gap, ...right]
    .slice(0, 4)
    .map((group) => Number.parseInt(group, 16).toString(16));
  return `${network.join(':')}::/64`;
}

const LOOPBACK = new BlockList();
LOOPBACK.addSubnet('127.0.0.0', 8, 'ipv4');
LOOPBACK.addAddress('::1', 'ipv6');

function isLoopback(address: string): boolean {
  const plain = address.replace(/^\[|\]$/g, '').split('%')[0]!;
  const mapped = /^::ffff:(\d+\.\d+\.\d+\.\d+)$/i.exec(plain)?.[1] ?? plain;
  const family = isIP(mapped);
  return family !== 0 && LOOPBACK.check(mapped, family === 6 ? 'ipv6' : 'ipv4');
}

/** Whether what a server listens on is its own machine alone. */
export function isLoopbackHost(host: string): boolean {
  return host === 'localhost' || isLoopback(host);
}

/** What proxies say of whom they speak for. Whoever comes without any has come by themselves, or through one that says nothing. */
const FORWARDING = [
  'x-forwarded-for',
  'forwarded',
  'x-real-ip',
  'via',
  'x-forwarded-host',
  'x-forwarded-proto',
];

/**
 * Whether the asker sits at this machine. A proxy on the same machine comes from there too, for everybody: so where anything says that it
 * speaks for somebody, only a proxy that is trusted is believed, and only that its asker is at this machine as well.
 * @param header of the request, by its name in lower case
 */
export function isFromThisMachine(
  header: (name: string) => string | undefined,
  socketAddress: string,
  trustProxy: boolean,
): boolean {
  if (!isLoopback(socketAddress)) return false;
  if (FORWARDING.every((name) => header(name) === undefined)) return true;
  const last = header('x-forwarded-for')?.split(',').at(-1)?.trim();
  return trustProxy && last !== undefined && isLoopback(last);
}
