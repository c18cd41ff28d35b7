import type { enLinks } from './en-links.ts';

/** Texts about links, roles and people, in German. */
export const deLinks: Readonly<Record<keyof typeof enLinks, string>> = {
  'closed.roleChanged': 'Was du an diesem Brett darfst, hat sich geändert. Die Seite öffnet es neu.',
  'links.share': 'Teilen',
  'links.dead': 'Dieser Link öffnet nichts: Er ist falsch, abgelaufen oder zurückgenommen.',
  'links.deadButIn': 'Jener Link öffnet nichts mehr. Du bist über einen anderen hier.',
  'links.tooMany':
    'Von hier aus wurden zu viele Links versucht, die nichts öffnen. Warte eine Minute und lade die Seite neu.',
  'links.lessNow':
    'Du darfst dieses Brett jetzt nur noch ansehen. Änderungen von dir, die noch nicht gesichert waren, werden nicht angenommen.',
  'own.heading': 'Deine Bretter',
  'own.hint': 'Bretter, die du in diesem Browser angelegt hast oder zu denen du über einen Link kamst.',
  'people.others': 'Andere an diesem Brett',
  'people.alone': 'Gerade ist sonst niemand hier.',
  'people.sees': 'sieht die Reihen {from} bis {to}',
  'people.follow': 'Folgen',
  'people.followOf': '{name} folgen: die Reihen im Blick behalten, die dort zu sehen sind',
  'people.following': 'Du folgst {name}. Berühre das Brett, um eigene Wege zu gehen.',
  'people.stop': 'Nicht mehr folgen',
  'role.owner': 'Besitzer',
  'role.co-maker': 'Mitmacher',
  'role.reviewer': 'Begutachter',
  'role.learner': 'Lernender',
  'role.onlooker': 'Zuschauer',
  'role.owner.may': 'alles ändern und Links ausgeben (Besitzer)',
  'role.co-maker.may': 'das Brett mit dir ändern (Mitmacher)',
  'role.reviewer.may': 'ansehen und Anmerkungen schreiben (Begutachter)',
  'role.learner.may': 'ansehen, fragen und in der Stunde seinen Platz halten (Lernender)',
  'role.onlooker.may': 'nur ansehen (Zuschauer)',
  'role.owner.you': 'Du bist Besitzer: Du änderst alles und gibst Links aus.',
  'role.co-maker.you': 'Du machst mit: Du änderst das Brett gemeinsam mit den anderen.',
  'role.reviewer.you':
    'Du begutachtest: Du siehst das Brett an und schreibst Anmerkungen, änderst es aber nicht.',
  'role.learner.you':
    'Du lernst: Du siehst zu, fragst und hältst deinen Platz in der Stunde, änderst das Brett aber nicht.',
  'role.onlooker.you': 'Du siehst zu: Du siehst das Brett an, änderst es aber nicht.',
};
