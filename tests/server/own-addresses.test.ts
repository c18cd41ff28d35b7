import { describe, expect, it } from 'vitest';
import { ownAddresses } from '../../server/own-addresses.ts';

const HOUSE = {
  lo: [{ address: '127.0.0.1', family: 'IPv4', internal: true }],
  wifi: [
    { address: '192.0.2.7', family: 'IPv4', internal: false },
    { address: 'fe80::1', family: 'IPv6', internal: false },
  ],
  gone: undefined,
} as const;

describe('addresses of the server in the house', () => {
  it('[V535] there are none where it listens to its own machine alone', () => {
    for (const host of ['127.0.0.1', '127.9.9.9', 'localhost', '::1', '::ffff:127.0.0.1'])
      expect(ownAddresses(host, 8080, HOUSE), host).toEqual([]);
  });

  it('[V535] listening everywhere it is at each address of the machine that others have a way to', () => {
    for (const host of ['0.0.0.0', '::'])
      expect(ownAddresses(host, 8080, HOUSE), host).toEqual(['http://192.0.2.7:8080']);
    expect(ownAddresses('0.0.0.0', 8080, {})).toEqual([]);
  });

  it('[V535] listening at one address or name it is at that one', () => {
    expect(ownAddresses('192.0.2.7', 80, {})).toEqual(['http://192.0.2.7:80']);
    expect(ownAddresses('2001:db8::7', 81, {})).toEqual(['http://[2001:db8::7]:81']);
    expect(ownAddresses('table.home.arpa', 82, {})).toEqual(['http://table.home.arpa:82']);
  });
});
