import { bare } from '../../bare.js';
import { Decimal } from 'decimal.js';
import { D } from '../../quantity/units.js';

/** Minor units where they are not 2. Source: ISO 4217 (list of 2024-06-25); checked in tests against reference/iso4217_minor_units.csv. */
const minorUnits: Readonly<Record<string, number>> = bare({
  BIF: 0,
  CLP: 0,
  DJF: 0,
  GNF: 0,
  ISK: 0,
  JPY: 0,
  KMF: 0,
  KRW: 0,
  PYG: 0,
  RWF: 0,
  UGX: 0,
  UYI: 0,
  VND: 0,
  VUV: 0,
  XAF: 0,
  XOF: 0,
  XPF: 0,
  BHD: 3,
  IQD: 3,
  JOD: 3,
  KWD: 3,
  LYD: 3,
  OMR: 3,
  TND: 3,
  CLF: 4,
  UYW: 4,
});

export const digitsOf = (currency: string): number => minorUnits[currency] ?? 2;

/** Rounds an amount to the currency: half away from zero, as EN 16931 invoices do. */
export const roundMoney = (amount: Decimal, currency: string): Decimal => amount.toDecimalPlaces(digitsOf(currency), Decimal.ROUND_HALF_UP);

export const moneyText = (amount: Decimal, currency: string): string => roundMoney(amount, currency).plus(0).toFixed(digitsOf(currency));

export const percentOf = (amount: Decimal, percent: Decimal): Decimal => amount.times(percent).div(100);

export const sum = (amounts: readonly Decimal[]): Decimal => amounts.reduce((total, amount) => total.plus(amount), new D(0));
