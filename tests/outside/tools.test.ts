// Against something outside the project; the source stands beside each check.
import { expect, it } from 'vitest';
import { D } from '../../src/quantity/units.js';
import { settingWithAdapter } from '../../src/resolve/torque/wrench.js';
import { csv } from '../helpers/shop.js';

it('adapter settings as printed (tests/reference/torque_extension_examples.csv)', () => {
  for (const row of csv('torque_extension_examples.csv')) {
    const offset = new D(row.E ?? 0).abs();
    const setting = settingWithAdapter(new D(row.T_wanted ?? 0), new D(row.L ?? 1), offset, Number(row.angle_deg));
    expect(setting.toNumber()).toBeCloseTo(Number.parseFloat(row.published_setting ?? ''), 1);
  }
  expect(settingWithAdapter(new D(10), new D(260), new D(38), 90).toNumber()).toBe(10);
});
