import type { enPeople } from '../en/people.ts';

/** Texts about who is at a board, in German. */
export const dePeople: Readonly<Record<keyof typeof enPeople, string>> = {
  'board.people': 'An diesem Brett: {names}',
  'board.you': '{name} (du)',
  'board.yourName': 'Dein Name',
  'people.others': 'Andere an diesem Brett',
  'people.alone': 'Gerade ist sonst niemand hier.',
  'people.sees': 'sieht die Reihen {from} bis {to}',
  'people.follow': 'Folgen',
  'people.followOf': '{name} folgen: dieselben Reihen sehen',
  'people.ask': 'Wie sollen dich die anderen hier nennen?',
  'people.goOn': 'Weiter',
  'people.goOnAs': 'Weiter als {name}',
  'people.taken': '{name} heißt hier schon jemand.',
  'people.unheard': 'nicht zu sehen, seit die Verbindung weg ist',
  'people.unheardOf': '{name} (gerade nicht zu sehen)',
  'people.left': 'War hier',
  'people.wasHere': 'war bis {time} hier',
};
