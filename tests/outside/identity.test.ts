// Against something outside the project; the source stands beside each check.
import { expect, it } from 'vitest';
import { checkDigit } from '../../src/resolve/identity/vin.js';
import { csv } from '../helpers/shop.js';

it('check digits of vehicle identification numbers (49 CFR 565.15; tests/reference/vin_vectors.csv)', () => {
  const rows = csv('vin_vectors.csv');
  expect(rows.length).toBeGreaterThan(5);
  for (const row of rows) {
    const vin = row.vin ?? '';
    if (!row.check_digit) continue;
    expect(checkDigit(vin), vin).toBe(row.check_digit);
    expect(checkDigit(vin) === vin[8], vin).toBe(row.verdict === 'valid');
  }
});
