/** Words of the craft to call people by, in German: the same things in the same order as in every language. */
export const deCraftNames: readonly string[] =
  'Spule Schiffchen Strang Fingerhut Quaste Zopf Flechte Kordel Schlaufe Franse Knebel Knopf Rolle Haspel Nadel Band Spindel Rocken Litze Pikot Köper Hanf Leinen Jute Baumwolle Wolle Filz Schuss Kette Webkante Perle Schließe Öse Anhänger Knoten Zwirn Faden Garn Spitze Ahle'.split(
    ' ',
  );
