// Writes a small corpus for read_fuzz: one log of a few rows in each of many
// dialects, and a map. Usage: make_corpus FOLDER
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

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) return 2;
  const std::string folder = argv[1];
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
