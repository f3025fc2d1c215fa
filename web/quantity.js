// Quantities in fields: "3 mA" for 0.003 with the unit A, and back. Whoever writes a lesson need not count noughts.

/** @type {[string, number][]} largest first */
const kPrefixes = [['G', 1e9], ['M', 1e6], ['k', 1e3], ['', 1], ['m', 1e-3], ['µ', 1e-6], ['n', 1e-9], ['p', 1e-12]];
const kFactors = new Map([...kPrefixes, ['u', 1e-6], ['μ', 1e-6]]);

/** @param {number} value @param {string} unit @returns {string} */
export function quantityText(value, unit) {
  const size = Math.abs(value);
  const [prefix, factor] = !unit || unit === '°C' || size === 0 ? ['', 1] : kPrefixes.find(([, one]) => size >= one * 0.9999999) ?? kPrefixes[kPrefixes.length - 1];
  return `${Number((value / factor).toPrecision(6))} ${prefix}${unit}`.trim();
}

/** The number that is meant, in the unit; null when it is none. @param {string} text @param {string} unit @returns {?number} */
export function quantityIn(text, unit) {
  const found = /^([-+−]?[\d.,]+(?:e[-+]?\d+)?)\s*(.*)$/i.exec(text.trim());
  if (!found) return null;
  const digits = found[1].replace('−', '-');
  if (/,.*[,.]/.test(digits)) return null;
  const number = Number(digits.replace(',', '.'));
  let prefix = found[2].trim();
  if (unit && prefix.endsWith(unit)) prefix = prefix.slice(0, prefix.length - unit.length).trim();
  const factor = kFactors.get(prefix);
  return Number.isFinite(number) && factor !== undefined ? number * factor : null;
}
