# Writes the commit that a tree is at into a header, where it is not there already. Run at every build:
#   cmake -DSOURCE=TREE -DHEADER=FILE -P commit.cmake
execute_process(COMMAND git -C ${SOURCE} rev-parse --short=10 HEAD OUTPUT_VARIABLE commit ERROR_QUIET
  OUTPUT_STRIP_TRAILING_WHITESPACE RESULT_VARIABLE failed)
if(failed)
  set(commit "not known")
else()
  execute_process(COMMAND git -C ${SOURCE} diff --quiet HEAD -- engine objectives CMakeLists.txt ERROR_QUIET
    RESULT_VARIABLE changed)
  if(changed)
    string(APPEND commit ", changed")
  endif()
endif()
set(text "// Written by scripts/commit.cmake at every build.\n#pragma once\n#define TRAMMEL_COMMIT \"${commit}\"\n")
set(before "")
if(EXISTS ${HEADER})
  file(READ ${HEADER} before)
endif()
if(NOT before STREQUAL text)
  file(WRITE ${HEADER} "${text}")
endif()
