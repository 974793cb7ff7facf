// libpq, loaded when a store on a server is first asked for. Linked, it would
// bring some thirty libraries along that every start of the program waits for.
#pragma once

#include <libpq-fe.h>

namespace telltale::host::season {

/// The functions of libpq, as its manual has them.
struct LibPq {
  decltype(&PQclear) clear;
  decltype(&PQcmdTuples) cmd_tuples;
  decltype(&PQconnectdb) connect_db;
  decltype(&PQdb) db;
  decltype(&PQerrorMessage) error_message;
  decltype(&PQexec) exec;
  decltype(&PQexecParams) exec_params;
  decltype(&PQfinish) finish;
  decltype(&PQgetisnull) get_is_null;
  decltype(&PQgetlength) get_length;
  decltype(&PQgetResult) get_result;
  decltype(&PQgetvalue) get_value;
  decltype(&PQhost) host;
  decltype(&PQntuples) n_tuples;
  decltype(&PQport) port;
  decltype(&PQputCopyData) put_copy_data;
  decltype(&PQputCopyEnd) put_copy_end;
  decltype(&PQresultErrorField) result_error_field;
  decltype(&PQresultStatus) result_status;
  decltype(&PQsetNoticeProcessor) set_notice_processor;
  decltype(&PQstatus) status;
  decltype(&PQuser) user;
};

/// The library, loaded once; null where this machine has none.
const LibPq* load_libpq();

}  // namespace telltale::host::season
