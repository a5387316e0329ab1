"""model/store"""
