# Makes the C++ table of the message catalogue.
#   include(shell/words/words.cmake)  tiepoint_add_words(<target>)   adds a static library with say() and the table.
# The same file is the generating script:  cmake -DCATALOGUE=en.json -DTABLE=out.cpp -P words.cmake
set(TIEPOINT_WORDS_DIR ${CMAKE_CURRENT_LIST_DIR})

function(tiepoint_add_words target)
  set(table ${CMAKE_CURRENT_BINARY_DIR}/words_table.cpp)
  add_custom_command(
    OUTPUT ${table}
    COMMAND ${CMAKE_COMMAND} -DCATALOGUE=${TIEPOINT_WORDS_DIR}/en.json -DTABLE=${table} -P ${TIEPOINT_WORDS_DIR}/words.cmake
    DEPENDS ${TIEPOINT_WORDS_DIR}/en.json ${TIEPOINT_WORDS_DIR}/words.cmake
    VERBATIM)
  add_library(${target} STATIC ${TIEPOINT_WORDS_DIR}/words.cpp ${TIEPOINT_WORDS_DIR}/finding_words.cpp ${table})
  target_compile_options(${target} PRIVATE -fno-exceptions -fno-rtti)
  target_link_libraries(${target} PUBLIC tiepoint_flags tiepoint_engine)
endfunction()

function(tiepoint_write_words_table)
  file(READ ${CATALOGUE} json)
  string(JSON count LENGTH "${json}")
  math(EXPR last "${count} - 1")
  foreach(index RANGE ${last})
    string(JSON key MEMBER "${json}" ${index})
    list(APPEND keys "${key}")
  endforeach()
  list(SORT keys COMPARE STRING CASE SENSITIVE)
  set(rows "")
  foreach(key IN LISTS keys)
    string(JSON message GET "${json}" "${key}")
    string(APPEND rows "    {R\"~(${key})~\", R\"~(${message})~\"},\n")
  endforeach()
  file(WRITE ${TABLE} "// Generated from the message catalogue; do not edit.
#include \"shell/words/table.h\"

namespace tiepoint {
namespace {
constexpr WordsEntry kTable[] = {
${rows}};
}  // namespace
std::span<const WordsEntry> words_table() { return kTable; }
}  // namespace tiepoint
")
endfunction()

if(CMAKE_SCRIPT_MODE_FILE AND DEFINED CATALOGUE)
  tiepoint_write_words_table()
endif()
