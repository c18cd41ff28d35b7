/** Texts of going on on a phone, in English. Come with those of links. */
export const enHandOver = {
  'handOver.heading': 'Go on on my phone',
  'handOver.close': 'Close',
  'handOver.asking': 'A code is being made …',
  'handOver.scan': 'Hold the phone’s camera over it. It works once, until {until}.',
  'handOver.code': 'Code for a phone, opens {origin}',
  'handOver.which': 'Address in the house',
  'handOver.right': 'The phone may look at this board, no more, and has this keychain as far as it is now.',
  'handOver.plain':
    'This address has no https: on the phone the page will not work offline, keep the screen on or use the camera.',
  'handOver.another': 'Another code',
  'handOver.again': 'Try again',
  'handOver.failed': 'There is no code: {why}.',
  'handOver.usedUp':
    'This code works no more: it was used, or is older than ten minutes. Have the other device give another one.',
  'handOver.unread': 'What came along cannot be read here. The board can be looked at.',
  'handOver.noLinks':
    'This server keeps no links, so it cannot let a phone in by a code. Open the board’s address on the phone and begin there.',
  'handOver.tooLarge': 'This keychain is too large to be sent along.',
  'handOver.loopback':
    'This server answers this computer alone; no phone can reach it. To have it answer phones in the house:',
  'handOver.start': 'Stop it, and start it so:',
  'handOver.firewall': 'Let the firewall pass port {port} from your own network, and from no other.',
  'handOver.certificate':
    'For offline, screen kept on and camera the phone wants https: a certificate that it trusts, on a proxy in front.',
  'handOver.recipe': 'All of it, step by step, is in server/RUNNING.md under “Phones in the house”.',
} as const;
