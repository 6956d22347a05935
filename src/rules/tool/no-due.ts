import { isDamaged, spanOf } from '../../schema/origin.js';
import { exampleLibrary } from '../example-library.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'tool/no-due',
  severity: 'warning',
  finds: 'A torque wrench of the tool list without the day on which its calibration is due.',
  why: 'Nobody knows whether it still reads right, and every joint that it touched is in doubt when it does not.',
  mend: 'Write `due:` from its certificate.',
  bad: {
    'shop.yaml': (exampleLibrary['shop.yaml'] ?? '').replace(/( {2}W-1: .*), due: "[\d-]+" \}/, '$1 } # <-'),
  },
  good: { 'shop.yaml': exampleLibrary['shop.yaml'] ?? '' },
  compare({ library }, tell) {
    const tools = library.shop?.tools ?? {};
    for (const [id, tool] of Object.entries(tools))
      if (tool.type === 'torque-wrench' && tool.due === undefined && !isDamaged(tool))
        tell({
          span: spanOf(tools, id, 'key'),
          message: `Nothing says until when the calibration of \`${id}\` holds. Write \`due:\` from its certificate (common practice: a year, or 5,000 turns).`,
        });
  },
};
