/** Texts of going on on a phone, in German. Come with those of links. */
import type { enHandOver } from '../en/hand-over.ts';

export const deHandOver: Readonly<Record<keyof typeof enHandOver, string>> = {
  'handOver.heading': 'Am Handy weitermachen',
  'handOver.close': 'Schließen',
  'handOver.asking': 'Ein Code entsteht …',
  'handOver.scan': 'Halte die Kamera des Handys darüber. Er gilt einmal, bis {until}.',
  'handOver.code': 'Code für ein Handy, öffnet {origin}',
  'handOver.which': 'Adresse im Haus',
  'handOver.right':
    'Das Handy darf dieses Brett ansehen, mehr nicht, und hat diesen Anhänger, so weit er jetzt ist.',
  'handOver.plain':
    'Diese Adresse hat kein https: Am Handy geht die Seite dann nicht offline, hält den Bildschirm nicht an und hat keine Kamera.',
  'handOver.another': 'Ein anderer Code',
  'handOver.again': 'Noch einmal',
  'handOver.failed': 'Es gibt keinen Code: {why}.',
  'handOver.usedUp':
    'Dieser Code gilt nicht mehr: Er wurde benutzt oder ist älter als zehn Minuten. Lass das andere Gerät einen neuen geben.',
  'handOver.unread': 'Was mitkam, lässt sich hier nicht lesen. Das Brett kannst du ansehen.',
  'handOver.noLinks':
    'Dieser Server kennt keine Links und kann kein Handy mit einem Code einlassen. Öffne die Adresse des Bretts am Handy und fang dort an.',
  'handOver.tooLarge': 'Dieser Anhänger ist zu groß, um ihn mitzuschicken.',
  'handOver.loopback':
    'Dieser Server antwortet nur diesem Rechner, kein Handy erreicht ihn. Damit er Handys im Haus antwortet:',
  'handOver.start': 'Halte ihn an und starte ihn so:',
  'handOver.firewall': 'Lass in der Firewall Port {port} aus dem eigenen Netz zu, und aus keinem anderen.',
  'handOver.certificate':
    'Für offline, Bildschirm an und Kamera will das Handy https: ein Zertifikat, dem es traut, auf einem Proxy davor.',
  'handOver.recipe': 'Alles Schritt für Schritt steht in server/RUNNING.md unter „Phones in the house“.',
};
