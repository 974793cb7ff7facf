// The word table. English first, then German, French, Spanish, Italian, Dutch
// and Norwegian, all in folded letters (see fold_letters.hpp). A line is a
// list of spellings and what they mean.
#include "ingest/words.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <unordered_map>

namespace telltale::host {
namespace {

struct Line {
  std::string_view spellings;  // parted by blanks
  std::string_view meaning;    // concepts parted by blanks
};

constexpr std::array kConcepts = {
    // Quantities.
    Line{
        "pressure press pres prs pr druck pression pres presion pressione druk "
        "trykk",
        "pressure"},
    Line{"temperature temperatures temp temps tmp tem temperatur temperatura "
         "temperatuur tempr",
         "temperature"},
    Line{"voltage voltages volt volts vlt vlts vac vrms spannung tension "
         "tensione spanning spenning",
         "voltage"},
    Line{"vdc", "dc voltage"},
    Line{
        "current curr amp amps ampere amperes amperage strom courant intensite "
        "corriente intensidad corrente stroom strm arms",
        "current"},
    Line{"frequency freq frq fq hertz hz frequenz frequence frecuencia "
         "frequenza frequentie frekvens",
         "frequency"},
    Line{"speed spd drehzahl vitesse regime velocidad velocita regimen "
         "toerental turtall hastighet geschwindigkeit",
         "speed"},
    Line{"rpm rpms revs revolutions tours trmin giri toeren tachometer tacho "
         "tach omdreininger upm umin",
         "rpm"},
    Line{"power kw kilowatt kilowatts watt watts leistung wirkleistung "
         "puissance potencia potenza vermogen effekt kwe pwr ptot pges",
         "power"},
    Line{"load last carga carico belasting belastning auslastung", "load"},
    Line{"percent pct percentage prozent pourcent pourcentage porcentaje "
         "percentuale procent prosent",
         "percent"},
    Line{"pf powerfactor leistungsfaktor cosphi cosfi cosinusphi "
         "cos\xCF\x86 cos\xCF\x95",
         "power factor"},
    Line{"factor faktor facteur fattore fact", "factor"},
    Line{"cos cosinus", "cos"},
    Line{"phi fi \xCF\x86 \xCF\x95", "phi"},
    Line{"level lvl lev stand fullstand niveau nivel livello peil niva "
         "fuellstand "
         "pegel inhalt",
         "level"},
    Line{"rate", "rate"},
    Line{"flow durchfluss debit caudal flusso", "flow"},
    Line{"consumption verbrauch consommation consumo verbruik forbruk conso "
         "cons burn",
         "consumption"},
    Line{
        "hours hour hrs hr stunden std heures horas ore uren timer draaiuren h",
        "hours"},
    Line{"betriebsstunden betriebsstd bstd bh betrstd motorstunden hobbs "
         "hourmeter horometre horometro horimetro contaore urenteller "
         "driftstimer gangtid stundenzahler betriebsstundenzahler horaire",
         "running hours"},
    Line{"running run runtime lauf laufzeit fonctionnement marche "
         "funcionamiento "
         "funzionamento bedrijf drift operating operation",
         "running"},
    Line{"meter", "meter"},
    Line{
        "total totals tot gesamt totale totaal cumulative lifetime accumulated",
        "total"},
    Line{"starts start anlasser demarrages demarrage arranques arranque "
         "avviamenti avviamento starten",
         "starts"},
    Line{"charge charging lade ladung ladespannung", "charge"},
    Line{"diesel", "diesel"},
    Line{"startcount startcounter startzahler anlassvorgange startvorgange",
         "starts count"},
    Line{"count counts counter cnt zahler compteur contador contatore teller "
         "teller anzahl nombre numero aantal antall",
         "count"},
    Line{"number num", "number"},
    // Media and places.
    Line{"oil oel ol huile aceite olio olie olje", "oil"},
    Line{"lube lub schmierol schmieroel schmier lubrication graissage "
         "lubricacion lubrificazione smering lubricant lubrificante lubeoil",
         "lube"},
    Line{"sump olwanne carter", "sump"},
    Line{"coolant clnt cool cooling kuhlmittel kuehlmittel kuhlwasser "
         "kuehlwasser kuhl kuehl refroidissement refrigerante liquido "
         "raffreddamento koelwater koelvloeistof koeling kjolevann kjolevaeske",
         "coolant"},
    Line{"ect clt", "coolant temperature"},
    Line{"antifreeze glycol", "coolant"},
    Line{"jacket jkt jcw jw ht", "jacket"},
    Line{"water wtr wasser eau agua acqua vann wat h2o", "water"},
    Line{"wt", "water temperature"},
    Line{"fresh freshwater fw", "fresh water"},
    Line{
        "sea seawater sw meerwasser seewasser salzwasser mer mar mare zeewater "
        "sjovann sjo",
        "sea water"},
    Line{"sst", "sea water temperature"},
    Line{"raw rawwater rw rohwasser brute cruda grezza buitenwater",
         "raw water"},
    Line{"exhaust exh exhst exht abgas echappement escape scarico uitlaat "
         "eksos avgass auspuff fumes elbow riser muffler silencer stack funnel",
         "exhaust"},
    Line{"egt pyro pyrometer", "exhaust temperature"},
    Line{"eot", "oil temperature"},
    Line{"op eop lop", "oil pressure"},
    Line{"gas gaz", "gas"},
    Line{"winding windings wdg wicklung wicklungs wicklungen bobinage "
         "enroulement "
         "devanado bobinado avvolgimento wikkeling vikling coil coils",
         "winding"},
    Line{"stator", "stator"},
    Line{"alternator alt lichtmaschine alternateur alternador alternatore "
         "dynamo lima",
         "alternator"},
    Line{"ambient amb umgebung umgebungs ambiante ambiente omgeving "
         "omgivelse",
         "ambient"},
    Line{"air luft lucht aire aria", "air"},
    Line{"room raum compartment maschinenraum motorraum machinekamer "
         "maskinrom sala",
         "room"},
    Line{"er", "engine room"},
    Line{"enclosure canopy cabinet hood kapsel gehause cofano", "enclosure"},
    Line{"outside outdoor aussen exterieur exterior esterna buiten ute",
         "outside"},
    Line{"battery batt bat bty btry batteries batterie batterie batteria "
         "bateria accu akku batteri starterbatterie",
         "battery"},
    Line{"starter crank cranking", "starter"},
    Line{"supply versorgung versorgungs bordnetz alimentation alimentacion "
         "alimentazione voeding",
         "supply"},
    Line{"vbatt vbat ubat ubatt battv batv ubatterie", "battery voltage"},
    Line{"potential", "voltage"},
    Line{"dc gleich gleichspannung", "dc"},
    Line{"fuel kraftstoff treibstoff brennstoff carburant gazole "
         "gasoil combustible gasoleo carburante gasolio brandstof drivstoff",
         "fuel"},
    Line{"tank reservoir deposito serbatoio", "tank"},
    Line{"neutral nullleiter neutre neutro", "neutral"},
    Line{"real aktiv wirk", "real"},
    Line{"active activa attiva", "active"},
    // Where it is measured.
    Line{"engine eng motor moteur maskin motore motormotor crankshaft mover",
         "engine"},
    Line{"generator gen genset dg gs aggregat stromerzeuger generateur groupe "
         "generador grupo generatore gruppo alternatorset ac gener",
         "generator"},
    Line{"output out ausgang sortie salida uscita uitgang", "output"},
    Line{"linetoline verkettet verkettete verketteten aussenleiter composee "
         "concatenata compuesta gekoppelde",
         "line"},
    Line{"linetoneutral sternspannung", "neutral"},
    Line{"line linie ligne linea lijn leiter", "line"},
    Line{"average avg mean mittel mittelwert moyenne medio media gemiddelde",
         "average"},
};

constexpr std::array kNeutral = {
    Line{"value val wert valeur valor valore waarde actual act ist present now "
         "reading read measured meas messwert sensor sender sensed signal "
         "channel ch input in at of the and on for per des de du della del di "
         "der die das le la el il id no nr unit set main data param "
         "parameter pv phase ph leg bank side gauge analog an anlg ain "
         "ecu mcu ems canbus can j1939 n2k nmea modbus mb tag "
         "online inst instant instantaneous rms prime mpu pickup magnetic "
         "wet dry hose mixing mixer end system sys controller panel "
         // Messages of SAE J1939 that stand before their signals' names.
         "eec1 eec2 eec3 et1 et2 vep1 efl lfe lfe1 gaac gaap gtacr dd dd1 "
         "port stbd "
         "starboard star bb stb fwd aft left right inner outer "
         "filtered filt smoothed est calc calculated computed degrees deg "
         "common general primary local",
         ""},
};

constexpr std::array kForeign = {
    Line{
        "setpoint sp set_point target desired demand demanded requested "
        "point request reference ref nominal rated rating limit lim limits max "
        "maximum min minimum peak high hi low threshold thresh alarm "
        "alarms warning warn trip shutdown fault faults failure fail error "
        "err diagnostic dtc soll sollwert consigne consigna grenzwert "
        "warnung storung alarme alarma status state flag code enable enabled "
        "mode ll hh lolo hihi switch relay cmd command maxi mini hysteresis",
        ""},
    Line{"mains utility grid bus busbar shore shorepower netz reseau red "
         "rete net landstrom inverter inv solar wind turbine wtg hydro "
         "charger ladegerat ups house service domestic hotel bow "
         "thruster windlass propulsion shaft gearbox gear transmission "
         "getriebe turbo turbocharger boost intake manifold inlet rail "
         "injector injection intercooler aftercooler crankcase cylinder cyl "
         "head bearing lager hydraulic hyd pump valve fan compressor heater "
         "thermostat filter throttle pedal torque accelerator egr dpf def "
         "urea adblue scr nox soot",
         ""},
    Line{"reactive blind blindleistung reactiva apparent schein "
         "scheinleistung apparente energy energie energia kwh kvar kvarh kva "
         "var va wh mwh kvah",
         ""},
    Line{"vibration humidity feuchte rh dew barometric baro barometer "
         "atmospheric altitude latitude longitude lat lon lng gps heading cog "
         "sog depth tide wave pitch roll heel yaw weather irradiance position "
         "rudder",
         ""},
    Line{"delta diff difference differential deviation dev variance "
         "stdev sd sigma thd harmonic harmonics ripple unbalance imbalance "
         "crest asymmetry slope trend rateofchange roc",
         ""},
    Line{"soc soh capacity remaining range time duration since until "
         "due next maintenance interval used volume",
         ""},
};

using Table = std::unordered_map<std::string_view, std::vector<HeaderWord>>;

void each_word(std::string_view text, auto&& use) {
  while (!text.empty()) {
    const std::size_t end = std::min(text.find(' '), text.size());
    if (end > 0) use(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
}

Table build_table() {
  Table table;
  for (const Line& line : kConcepts) {
    std::vector<HeaderWord> meaning;
    each_word(line.meaning, [&](std::string_view word) {
      meaning.push_back({std::string(word), WordKind::concept_word});
    });
    each_word(line.spellings,
              [&](std::string_view word) { table.emplace(word, meaning); });
  }
  const auto add = [&](const auto& lines, WordKind kind) {
    for (const Line& line : lines) {
      each_word(line.spellings, [&](std::string_view word) {
        table.emplace(word, std::vector<HeaderWord>{{std::string(word), kind}});
      });
    }
  };
  add(kNeutral, WordKind::neutral);
  add(kForeign, WordKind::foreign);
  return table;
}

const Table& table() {
  static const Table built = build_table();
  return built;
}

// Words too short or too common as parts of others to be found inside them.
bool may_be_part(std::string_view part) {
  if (part.size() >= 3) {
    return part != "man" && part != "ist" && part != "act" && part != "and" &&
           part != "the" && part != "mer" && part != "mar" && part != "red" &&
           part != "ore" && part != "net" && part != "des" && part != "del" &&
           part != "var" && part != "std" && part != "tot" && part != "out" &&
           part != "set" && part != "for" && part != "last" && part != "val";
  }
  return part == "kw" || part == "hz" || part == "ol";
}

// Takes a compound apart from the left, longest parts first.
bool take_apart(std::string_view word, std::vector<HeaderWord>& parts,
                int depth) {
  if (word.empty()) return depth > 1;
  if (depth >= 4) return false;
  for (std::size_t length = word.size(); length >= 2; --length) {
    const std::string_view part = word.substr(0, length);
    if (!may_be_part(part)) continue;
    const auto found = table().find(part);
    if (found == table().end()) continue;
    const std::size_t before = parts.size();
    parts.insert(parts.end(), found->second.begin(), found->second.end());
    std::string_view rest = word.substr(length);
    if (take_apart(rest, parts, depth + 1)) return true;
    // German joins with an s: "Umgebungstemperatur", "Betriebsspannung".
    if (rest.size() > 3 && (rest.front() == 's' || rest.front() == 'n') &&
        take_apart(rest.substr(1), parts, depth + 1)) {
      return true;
    }
    parts.resize(before);
  }
  return false;
}

}  // namespace

std::optional<std::vector<HeaderWord>> look_up_word(std::string_view word) {
  const auto found = table().find(word);
  if (found != table().end()) return found->second;
  if (word.size() < 5 || word.size() > 40) return std::nullopt;
  std::vector<HeaderWord> parts;
  if (take_apart(word, parts, 0)) return parts;
  return std::nullopt;
}

bool may_be_left_over(std::string_view word) {
  constexpr std::array<std::string_view, 10> kMay = {
      "engine", "generator", "load",   "output",     "average",
      "total",  "line",      "number", "alternator", "diesel"};
  return std::find(kMay.begin(), kMay.end(), word) != kMay.end();
}

std::string_view more_words_for(std::string_view slug) {
  struct More {
    std::string_view slug;
    std::string_view words;
  };
  constexpr std::array kMore = {
      More{"engine_speed", "engine rpm; speed rpm; starter rpm; starter speed"},
      More{"frequency", "frequency l1"},
      More{"voltage_l1",
           "voltage line neutral; voltage average neutral; voltage neutral"},
      More{"voltage_line", "voltage alternator; voltage line line"},
      More{"power", "generator power; power output"},
      More{"load", "engine load; generator load; engine charge percent"},
      More{"fuel_level",
           "fuel percent; fuel tank level; tank percent; diesel level; "
           "diesel tank; diesel percent; diesel tank level"},
      More{"engine_hours",
           "running hours total; engine running; running total; "
           "running meter; running count; running; running hours count"},
      More{"coolant_temperature",
           "coolant water temperature; engine water temperature; "
           "jacket water temperature"},
      More{"raw_water_temperature", "raw water; sea water"},
      More{"ambient_temperature", "ambient air temperature"},
      More{"winding_temperature",
           "stator winding temperature; alternator winding temperature"},
      More{"battery_voltage",
           "starter voltage; battery dc voltage; dc supply voltage; "
           "charge voltage; charge alternator voltage; "
           "battery charge voltage; alternator dc voltage"},
      More{"fuel_rate",
           "fuel consumption rate; fuel flow rate; consumption rate"},
      More{"start_count", "starter count"},
  };
  for (const More& more : kMore) {
    if (more.slug == slug) return more.words;
  }
  return "";
}

}  // namespace telltale::host
