import { bare } from '../bare.js';

/** Phrases that stand alone. */
const phrases: Readonly<Record<string, string>> = bare({
  'as written; the other unit by the exact factor': 'wie geschrieben; die andere Einheit mit dem genauen Faktor',
  'as written × the exact factor of its unit': 'wie geschrieben × genauer Faktor der Einheit',
  'as far as the wrench shows it, inside the tolerance': 'soweit der Schlüssel es zeigt, innerhalb der Toleranz',
  factors: 'Faktoren',
  'r = T / (0.16 · d · A_s · S_p), an estimate; the maker’s figure stands':
    'r = T / (0,16 · d · A_s · S_p), eine Schätzung; der Wert des Herstellers gilt',
  'F = T / (0.16·P + 0.58·d2·μ + D_Km/2·μ), an estimate; the maker’s figure stands':
    'F = T / (0,16·P + 0,58·d2·μ + D_Km/2·μ), eine Schätzung; der Wert des Herstellers gilt',
  'ΔF = θ/360 · P · k_b·k_m / (k_b + k_m), elastic, an estimate': 'ΔF = θ/360 · P · k_b·k_m / (k_b + k_m), elastisch, eine Schätzung',
  'the highest plain torque of the stages': 'das höchste reine Drehmoment der Stufen',
  'hexagon head on a medium clearance hole': 'Sechskantkopf auf mittlerem Durchgangsloch',
  'concentrate = C · c_t − (C − d) · c_0; water = d − concentrate': 'Konzentrat = C · c_t − (C − d) · c_0; Wasser = d − Konzentrat',
  'freezing point, by proportion between the rows of the table': 'Gefrierpunkt, anteilig zwischen den Zeilen der Tabelle',
  'new share after n changes = 1 − (1 − d/C)^n': 'Anteil neu nach n Wechseln = 1 − (1 − d/C)^n',
  'what came out goes back in: d × rounds': 'was herauskam, kommt wieder hinein: d × Wechsel',
  'lost = charge − recovered; the bottle gains what was recovered and gives the charge':
    'verloren = Füllung − abgesaugt; die Flasche bekommt das Abgesaugte und gibt die Füllung',
  'oil = what came out + what each renewed part takes': 'Öl = was herauskam + was jedes erneuerte Teil braucht',
  'odometer in + road test + distance': 'Kilometerstand ein + Probefahrt + Strecke',
  'odometer in': 'Kilometerstand ein',
  'road test': 'Probefahrt',
  distance: 'Strecke',
  'the cheapest set of offers that covers the demand (integer optimum)':
    'die billigste Menge von Angeboten, die den Bedarf deckt (ganzzahliges Optimum)',
  'the cheapest set of offers found that covers the demand; with so many kits another may be cheaper':
    'die billigste gefundene Menge von Angeboten, die den Bedarf deckt; bei so vielen Sätzen kann eine andere billiger sein',
  'cheaper by at most': 'billiger um höchstens',
  'linear relaxation': 'lineare Relaxation',
  'the cheapest containers that hold what is poured (integer optimum, each fluid for itself), or its share of a drum: price × amount / what it holds':
    'die billigsten Gebinde, die fassen, was eingefüllt wird (ganzzahliges Optimum, jeder Stoff für sich), oder der Anteil an einem Fass: Preis × Menge / Inhalt',
  'sum of the operations, each once, times its factor': 'Summe der Arbeitsgänge, jeder einmal, mal seinem Faktor',
  'the shortest schedule over the order of the operations (branch and bound); unattended time is filled by what need not wait for it':
    'der kürzeste Plan über die Reihenfolge der Arbeitsgänge (Branch and Bound); Zeit, die von selbst läuft, füllt, was nicht darauf warten muss',
  'hours billed × rate': 'berechnete Stunden × Satz',
  'labour × rate, at most the cap': 'Arbeit × Satz, höchstens die Obergrenze',
  'price of the other workshop and its markup': 'Preis der anderen Werkstatt und Aufschlag',
  'Σ amount × fee of each class': 'Σ Menge × Gebühr jeder Klasse',
  'gross × (1 + authority)': 'brutto × (1 + Vollmacht)',
  'net = Σ lines; tax = net of each category × rate, rounded once; gross = net + taxes (EN 16931)':
    'netto = Σ Posten; Steuer = netto jeder Kategorie × Satz, einmal gerundet; brutto = netto + Steuern (EN 16931)',
  'one place': 'eine Stelle',
  'two places': 'zwei Stellen',
  'two places, below a litre three': 'zwei Stellen, unter einem Liter drei',
  'three places, of inches four': 'drei Stellen, bei Zoll vier',
  'whole minutes': 'ganze Minuten',
  'printed to 0.01 L': 'gedruckt auf 0,01 L',
  'printed to 1 °C': 'gedruckt auf 1 °C',
  'each line to the currency': 'jede Zeile auf die Währung',
  'half up at each line and each tax category': 'kaufmännisch bei jedem Posten und jeder Steuerkategorie',
  share: 'Anteil',
  table: 'Tabelle',
  'the mixture above': 'die Mischung oben',
  rounds: 'Wechsel',
  wanted: 'gewünscht',
  charge: 'Füllung',
  recovered: 'abgesaugt',
  'the steps': 'die Schritte',
  demand: 'Bedarf',
  offers: 'Angebote',
  'steps and joints': 'Schritte und Verbindungen',
  'fluids of this job': 'Betriebsstoffe dieses Auftrags',
  'lines above': 'Posten oben',
  labour: 'Arbeit',
  rate: 'Satz',
  cap: 'Obergrenze',
  markup: 'Aufschlag',
  fees: 'Gebühren',
  'as in the waste list': 'wie in der Abfallliste',
  gross: 'brutto',
  'this quote': 'dieser Kostenvoranschlag',
  authority: 'Vollmacht',
  'the job order': 'der Auftrag',
  'the vehicle profile': 'das Fahrzeugprofil',
  assumed: 'angenommen',
  'at once': 'sofort',
  parts: 'Teile',
  'came out': 'kam heraus',
  '0 mL (not measured)': '0 mL (nicht gemessen)',
  fluids: 'Betriebsstoffe',
  supplies: 'Kleinmaterial',
  waste: 'Entsorgung',
  sublet: 'Fremdleistung',
  fee: 'Gebühr',
  discount: 'Nachlass',
  'ethylene glycol': 'Ethylenglykol',
  'propylene glycol': 'Propylenglykol',
});

/** A phrase of the workings, which are computed in English, in German; what is not known stays as it is. */
export const workingInGerman = (text: string): string =>
  phrases[text] ??
  text
    .replace(/^after /, 'nach ')
    .replace(/^tax /, 'Steuer ')
    .replace(/^half up to (\d+) places$/, 'kaufmännisch auf $1 Stellen')
    .replace(/ that fit this vehicle$/, ' passen zu diesem Fahrzeug')
    .replace(/ by itself/, ' von selbst')
    .replace(/, (\d+) persons$/, ', $1 Personen')
    .replace(/ by volume$/, ' Volumenanteil')
    .replace(/ h at /, ' h zu ')
    .replace(/ % of /, ' % von ')
    .replace(/ L concentrate, (.*) L water$/, ' L Konzentrat, $1 L Wasser')
    .replace(/^(\d+) min with (\d+), (\d+) min alone; critical path (\d+) min$/, '$1 min mit $2, $3 min allein; kritischer Weg $4 min')
    .replace(/\(not measured yet; the table on the sheet corrects it\)$/, '(noch nicht gemessen; die Tabelle auf dem Blatt berichtigt es)')
    .replace(/\(from memory\)$/, '(aus dem Gedächtnis)')
    .replace(/^common practice, no source$/, 'übliche Praxis, ohne Quelle')
    .replace(/(\d) to (\d)/, '$1 bis $2');
