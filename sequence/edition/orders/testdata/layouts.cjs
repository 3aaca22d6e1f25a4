// node layouts.cjs > address_layouts.json, with localized-address-format 1.3.3 from npm beside it
const { formatAddress } = require("localized-address-format");
const az = [..."ABCDEFGHIJKLMNOPQRSTUVWXYZ"], all = {};
for (const a of az) for (const b of az) {
  const lines = formatAddress({ postalCountry: a + b, administrativeArea: "REGION", locality: "TOWN", postalCode: "CODE", name: "NAME", addressLines: ["LINE 1", "LINE 2"] }, "latin");
  if (lines.join("|") !== "NAME|LINE 1|LINE 2|TOWN") all[a + b] = lines;
}
console.log(JSON.stringify(all, null, 0).replaceAll("],", "],\n"));
