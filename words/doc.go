// Package words is the message catalogue: every sentence of the field pages and
// the owner's sheets, in English and Spanish, by a flat key.
//
// A sentence may have slots in braces: "{count} of {total} landed". Trade words
// stay as crews say them; units and ids are never translated. Rules and
// reviewer sheets are English and not here. The Spanish is as spoken on US job
// sites, from memory: have a crew read it before release.
package words
