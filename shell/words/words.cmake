# Makes the C++ tables of the message catalogues.
#   include(shell/words/words.cmake)
#   tiepoint_add_words(<target>)        adds a static library with say() and a table of each language.
#   tiepoint_add_part_facts(<target>)   adds one with the table of parts.json: what is said of the parts' models. The bench goes without.
# The same file is the generating script:  cmake -DCATALOGUE=en.json -DTABLE=out.cpp -DFUNCTION=words_table -P words.cmake
set(TIEPOINT_WORDS_DIR ${CMAKE_CURRENT_LIST_DIR})
set(TIEPOINT_LANGUAGES en es de he)

function(tiepoint_words_command catalogue function table)
  add_custom_command(
    OUTPUT ${table}
    COMMAND ${CMAKE_COMMAND} -DCATALOGUE=${TIEPOINT_WORDS_DIR}/${catalogue} -DTABLE=${table} -DFUNCTION=${function} -P ${TIEPOINT_WORDS_DIR}/words.cmake
    DEPENDS ${TIEPOINT_WORDS_DIR}/${catalogue} ${TIEPOINT_WORDS_DIR}/words.cmake
    VERBATIM)
endfunction()

function(tiepoint_add_part_facts target)
  set(table ${CMAKE_CURRENT_BINARY_DIR}/part_facts_table.cpp)
  tiepoint_words_command(parts.json part_facts_table ${table})
  add_library(${target} STATIC ${TIEPOINT_WORDS_DIR}/part_facts.cpp ${table})
  target_compile_options(${target} PRIVATE -fno-exceptions -fno-rtti)
  target_link_libraries(${target} PUBLIC tiepoint_flags)
endfunction()

function(tiepoint_add_words target)
  foreach(language IN LISTS TIEPOINT_LANGUAGES)
    set(table ${CMAKE_CURRENT_BINARY_DIR}/words_table_${language}.cpp)
    tiepoint_words_command(${language}.json words_table_${language} ${table})
    list(APPEND tables ${table})
  endforeach()
  add_library(${target} STATIC ${TIEPOINT_WORDS_DIR}/words.cpp ${TIEPOINT_WORDS_DIR}/finding_words.cpp ${TIEPOINT_WORDS_DIR}/phrases.cpp ${TIEPOINT_WORDS_DIR}/lesson_words.cpp
              ${TIEPOINT_WORDS_DIR}/value_words.cpp ${TIEPOINT_WORDS_DIR}/languages.cpp ${tables})
  target_compile_options(${target} PRIVATE -fno-exceptions -fno-rtti)
  target_link_libraries(${target} PUBLIC tiepoint_flags tiepoint_engine)
  if(EMSCRIPTEN)
    target_compile_options(${target} PRIVATE -Oz)
  endif()
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
std::span<const WordsEntry> ${FUNCTION}() { return kTable; }
}  // namespace tiepoint
")
endfunction()

if(CMAKE_SCRIPT_MODE_FILE AND DEFINED CATALOGUE)
  tiepoint_write_words_table()
endif()
