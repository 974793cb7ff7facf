# Finds fast-cpp-csv-parser, which Debian installs as libfccp/csv.h and its
# authors as csv.h. Defines FastCppCsvParser::FastCppCsvParser; include it as
# <csv.h>.
find_path(FastCppCsvParser_INCLUDE_DIR NAMES csv.h PATH_SUFFIXES libfccp)
include(FindPackageHandleStandardArgs)
find_package_handle_standard_args(FastCppCsvParser
  REQUIRED_VARS FastCppCsvParser_INCLUDE_DIR)
mark_as_advanced(FastCppCsvParser_INCLUDE_DIR)
if(FastCppCsvParser_FOUND AND NOT TARGET FastCppCsvParser::FastCppCsvParser)
  add_library(FastCppCsvParser::FastCppCsvParser INTERFACE IMPORTED)
  set_target_properties(FastCppCsvParser::FastCppCsvParser PROPERTIES
    INTERFACE_INCLUDE_DIRECTORIES ${FastCppCsvParser_INCLUDE_DIR}
    INTERFACE_COMPILE_DEFINITIONS CSV_IO_NO_THREAD)
endif()
