// Writes small corpora: into FOLDER/read one log of a few rows in each of many
// dialects, and a map; into FOLDER/journal a journal of each shape. Usage:
// make_corpus FOLDER
#include <cstdio>
#include <string>

#include "log_writer.hpp"

namespace {

using namespace telltale::test;

void write(const std::string& folder, const std::string& name, char choice,
           const std::string& bytes) {
  const std::string path = folder + "/" + name;
  std::FILE* file = std::fopen(path.c_str(), "wb");
  if (file == nullptr) return;
  std::fputc(choice, file);
  std::fwrite(bytes.data(), 1, bytes.size(), file);
  std::fclose(file);
}

void write_journals(const std::string& folder) {
  const auto journal = [&](const std::string& name, const std::string& header,
                           const std::string& rows) {
    write(folder, name, '\0', header + "\n" + rows);
  };
  journal("states", "time,unit,tag,priority,state",
          "2026-06-01 08:00:00,A1,BILGE HIGH,2,ALM\n"
          "2026-06-01 08:00:05,A1,BILGE HIGH,2,RTN\n"
          "2026-06-01 08:00:09,A2,OIL TRIP,1,ALM\n"
          "2026-06-01 08:00:20,A2,OIL TRIP,1,ACK\n");
  journal("intervals", "alarm,time on,time off",
          "bilge high,2026-06-01 08:00:00,2026-06-01 08:00:05\n"
          "oil trip,2026-06-01 08:00:09,\n");
  journal("split", "Start date;Start time;End date;End time;Alarm",
          "14.06.2026;08:00:00;14.06.2026;08:00:05;bilge high\n"
          "14.06.2026;08:01:00;14.06.2026;08:01:05;oil trip\n");
  journal("durations", "start,alarm,duration (min),description",
          "2026-06-01 08:00:00,101,5,bilge\n2026-06-01 09:00:00,102,0.5,oil\n");
  journal("on-and-off", "time,alarm on,alarm off",
          "2026-06-01 08:00:00,bilge high,\n"
          "2026-06-01 08:00:05,,bilge high\n");
  journal("messages", "time,message",
          "2026-06-01 08:00:00,bilge high\n2026-06-01 08:00:30,oil trip\n");
  journal("codes", "time,SPN,FMI,active",
          "2026-06-01 08:00:00,110,16,1\n2026-06-01 08:00:10,110,16,0\n");
  journal("contacts", "time,BILGE HIGH,OIL TRIP",
          "2026-06-01 08:00:00,0,0\n2026-06-01 08:00:01,1,0\n"
          "2026-06-01 08:00:02,0,1\n2026-06-01 08:00:03,1,1\n");
  // Three raises within a minute: a cure is tried, from the channel.
  std::string level;
  for (int s = 0; s < 60; ++s) {
    const bool high = s % 10 < 3;
    level += (s < 10 ? "2026-06-01 08:00:0" : "2026-06-01 08:00:") +
             std::to_string(s) + (high ? ",97,coolant temp high" : ",95,") +
             "\n";
  }
  journal("level", "time,coolant temp (C),alarms", level);
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) return 2;
  write_journals(argv[1] + std::string("/journal"));
  const std::string folder = argv[1] + std::string("/read");
  const auto rows = made_up_rows(8);
  int number = 0;
  for (const auto time :
       {TimeStyle::iso_z, TimeStyle::iso_fraction, TimeStyle::epoch_ms,
        TimeStyle::day_first_slash, TimeStyle::month_first_12h,
        TimeStyle::month_name, TimeStyle::compact, TimeStyle::two_columns,
        TimeStyle::serial, TimeStyle::elapsed_s, TimeStyle::elapsed_clock}) {
    Dialect d;
    d.time = time;
    d.delimiter = number % 2 == 0 ? ',' : ';';
    d.decimal = number % 2 == 0 ? '.' : ',';
    d.us_units = number % 3 == 0;
    d.names = static_cast<NameStyle>(number % 6);
    d.units = static_cast<UnitPlace>(number % 4);
    d.ending = static_cast<Ending>(number % 4);
    d.encoding = static_cast<WideEncoding>(number % 5);
    d.preamble = number % 2 == 1;
    d.embedded_line_breaks = number % 4 == 2;
    d.gzip = number == 9;
    write(folder, "wide-" + std::to_string(number), '\0', write_log(rows, d));
    write(folder, "stream-" + std::to_string(number), '\x18',
          write_log(rows, d));
    ++number;
  }
  Dialect tall;
  tall.shape = Shape::long_format;
  write(folder, "tall", '\0', write_log(rows, tall));
  Dialect pairs;
  pairs.shape = Shape::pairs;
  pairs.time = TimeStyle::elapsed_s;
  write(folder, "pairs", '\0', write_log(rows, pairs));
  write(folder, "map", '\x0C',
        "delimiter = \";\"\ndecimal = \",\"\nheader_line = 3\n"
        "time = { column = 1, format = \"%d.%m.%Y %H:%M:%S\" }\n"
        "[[column]]\nindex = 4\nchannel = \"oil_pressure\"\nunit = \"psi\"\n"
        "scale = 1.0\nmissing = [\"---\"]\n");
  return 0;
}
