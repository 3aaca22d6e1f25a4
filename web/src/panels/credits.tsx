/** The licence of the towns' names asks to be told wherever they are shown. */
export function NamesFrom() {
  return <p class="credit">Place names from GeoNames (geonames.org), CC BY 4.0 (creativecommons.org/licenses/by/4.0), reduced to a table of towns.</p>;
}

/** Natural Earth asks for nothing; it is told all the same. */
export function OutlineFrom() {
  return <p class="credit">Outline: Natural Earth, public domain, simplified.</p>;
}
