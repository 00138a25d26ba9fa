# Writes the request that runs the published checks: cmake -DOUT=FILE -DROOT=FOLDER "-DPATHS=a;b" -P checks_request.cmake
# Its files are named as seen from the folder of the checks.
set(rows "")
foreach(path IN LISTS PATHS)
  file(READ ${ROOT}/${path} text)
  string(REPLACE "\\" "\\\\" text "${text}")
  string(REPLACE "\"" "\\\"" text "${text}")
  string(REPLACE "\n" "\\n" text "${text}")
  string(REPLACE "\t" "\\t" text "${text}")
  file(RELATIVE_PATH name ${ROOT}/tests/reference ${ROOT}/${path})
  string(APPEND rows "\"${name}\": \"${text}\",\n")
endforeach()
string(REGEX REPLACE ",\n$" "" rows "${rows}")
file(WRITE ${OUT} "{\"files\": {\n${rows}\n}}\n")
