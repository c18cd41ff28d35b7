/** Files of the product below the bar of `npm run coverage`, and why each is. One that reaches it is told, and goes from the list. */
import type { Exception } from './branches.ts';

export const BELOW: readonly Exception[] = [
  {
    why: 'draws, or is a template put into an element: shown by tests in a browser, and could be read as the others are',
    files: ['web/pages/colourway-look.ts', 'web/pages/help-drawings.ts'],
  },
  {
    why: 'the server’s: ways that only a fault takes, of which some have no test yet',
    files: [
      'server/main.ts',
    ],
  },
];
